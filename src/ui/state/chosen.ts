import { computed } from "@preact/signals";
import { scenario, state } from "./store.ts";

function nameOr(list: readonly { readonly name: string }[], name: string): string {
	return (list.find((each) => each.name === name) ?? list[0])?.name ?? "";
}

/** Names that stand in the scenario now; '' where there is nothing to choose from. */
export const chosenSet = computed(() => nameOr(scenario.value.gainSets, state.value.view.set));
export const chosenPoint = computed(() => nameOr(scenario.value.operatingPoints, state.value.view.point));
/** The operating point itself. */
export const chosenPointNow = computed(
	() => scenario.value.operatingPoints.find((each) => each.name === chosenPoint.value)!.point,
);
export const chosenDrill = computed(() => nameOr(scenario.value.drills, state.value.view.drill));
export const baseSet = computed(() => nameOr(scenario.value.gainSets, state.value.view.base));

/** The set worked on first, then those switched on beside it. */
export const shownSets = computed<readonly string[]>(() => {
	const { shown } = state.value.view;
	const others = scenario.value.gainSets
		.map((set) => set.name)
		.filter((name) => name !== chosenSet.value && shown.includes(name));
	return chosenSet.value === "" ? [] : [chosenSet.value, ...others];
});
