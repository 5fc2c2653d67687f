import { useComputed } from "@preact/signals";
import { parsePath, valueAt } from "../../../scenario/path.ts";
import type { KindName } from "../../../units/kinds.ts";
import { setValue } from "../../commands/set-value.ts";
import { run, scenario, state } from "../../state/store.ts";
import { QuantityField } from "../../widgets/quantity-field.tsx";
import { LinksTable } from "./links-table.tsx";

type Field = readonly [key: string, kind: KindName, label: string, about?: string];

const LINK: readonly Field[] = [
	["hinge[0]", "length", "Hinge, forward", "Of the reference point, limb folded."],
	["hinge[1]", "length", "Hinge, right"],
	["hinge[2]", "length", "Hinge, down"],
	["tip[0]", "length", "Far end, forward"],
	["tip[1]", "length", "Far end, right"],
	["tip[2]", "length", "Far end, down"],
	["diameter", "length", "Thickness"],
];

const SERVO: readonly Field[] = [
	["servo.speed", "turnRate", "Fastest"],
	["servo.torque", "torque", "Most torque"],
	["servo.frequency", "frequency", "Own frequency", "Of its small corrections."],
	["servo.stallCurrent", "current", "Current at full torque"],
	["servo.stiffness", "turnStiffness", "Stiffness to the link", "Empty: stiff."],
	["servo.play", "angle", "Whole play", "Needs a stiffness."],
	["servo.jitter", "angle", "Jitter, amplitude"],
	["servo.jitterFrequency", "frequency", "Jitter, how often"],
];

const GRIP: readonly Field[] = [
	["grip[0]", "length", "Grip, forward"],
	["grip[1]", "length", "Grip, right"],
	["grip[2]", "length", "Grip, down"],
	["gripRadius", "length", "Room about the grip", "Stays clear of propellers."],
];

const TETHER: readonly Field[] = [
	["length", "length", "Tether, to the load's middle"],
	["damping", "fraction", "Damping ratio of its swing"],
];

const LIQUID: readonly Field[] = [
	["diameter", "length", "Tank, across", "A round one."],
	["depth", "length", "Liquid in it, deep"],
	["share", "fraction", "Share that sloshes", "In place of the tank."],
	["pendulum", "length", "Pendulum it sloshes as", "In place of the tank."],
	["damping", "fraction", "Damping ratio of its slosh"],
];

const given = (path: string): unknown => valueAt(state.value.document, parsePath(path));

/** The reach arm, link by link, and how a load hangs. */
export function LimbFields() {
	const { limb } = scenario.value.craft;
	const assumed = useComputed(
		() =>
			scenario.value.assumed.filter(({ path }) => /^craft\.(limb|load\.(tether|liquid))\b/.test(path)).length,
	).value;
	return (
		<details class="sheet group">
			<summary>
				<h2>Reach arm and what hangs</h2>
				<span class="quiet small">{assumed === 0 ? "nothing assumed" : `${assumed} assumed`}</span>
			</summary>
			{limb ? (
				<>
					<p class="quiet">
						Described folded: every hinge at 0, places from the reference point. Mass of the craft has the
						folded limb in it.
					</p>
					<LinksTable />
					{limb.links.map(({ name }, i) => (
						<section key={name} class="limb-part" aria-label={`Link ${name}`}>
							<h3>Link '{name}'</h3>
							<Fields base={`craft.limb.links[${i}]`} fields={LINK} />
							<Travel index={i} />
							<h3>Servo of '{name}'</h3>
							<Fields base={`craft.limb.links[${i}]`} fields={SERVO} />
						</section>
					))}
					<section class="limb-part" aria-label="Grip">
						<h3>Grip</h3>
						<Fields
							base="craft.limb"
							fields={given("craft.limb.grip") === undefined ? GRIP.slice(3) : GRIP}
						/>
					</section>
				</>
			) : (
				<p class="quiet">
					This craft has no reach arm. One is described in the scenario file under craft.limb: links from the
					airframe outwards, each with hinge, axis, far end and servo.
				</p>
			)}
			<Hanging />
		</details>
	);
}

function Fields({ base, fields }: { readonly base: string; readonly fields: readonly Field[] }) {
	return (
		<div class="fields">
			{fields.map(([key, kind, label, about]) => (
				<QuantityField
					key={base + key}
					path={`${base}.${key}`}
					kind={kind}
					label={label}
					{...(about ? { about } : {})}
				/>
			))}
		</div>
	);
}

/** Two fields once the file says it; until then one button that writes down what is assumed. */
function Travel({ index }: { readonly index: number }) {
	const path = `craft.limb.links[${index}].travel`;
	if (given(path) !== undefined)
		return (
			<Fields
				base={`craft.limb.links[${index}]`}
				fields={[
					["travel[0]", "angle", "Travel, least", "From folded; 0 lies within."],
					["travel[1]", "angle", "Travel, most"],
				]}
			/>
		);
	return (
		<div class="row">
			<span class="quiet">Travel is assumed: -90 to 90 deg from folded.</span>
			<button type="button" onClick={() => run(setValue(path, ["-90 deg", "90 deg"], "travel"))}>
				Write it down, to change it
			</button>
		</div>
	);
}

const WAYS = {
	"held fast": {},
	"on a tether": { tether: { length: "500 mm" } },
	"liquid that sloshes": { liquid: { diameter: "60 mm", depth: "50 mm" } },
} as const;

/** How the load hangs: one of three ways, and the numbers of that way. */
function Hanging() {
	const load = (given("craft.load") ?? {}) as Readonly<Record<string, unknown>>;
	if (scenario.value.craft.load.massKg === 0)
		return <p class="quiet">No load is described: its heaviest mass is a field of the airframe.</p>;
	const way = load["tether"] ? "on a tether" : load["liquid"] ? "liquid that sloshes" : "held fast";
	return (
		<section class="limb-part" aria-label="Load">
			<h3>Load</h3>
			<label class="row">
				The load is{" "}
				<select
					value={way}
					onChange={(event) => {
						const { tether: _, liquid: __, ...fast } = load;
						const how = WAYS[event.currentTarget.value as keyof typeof WAYS];
						run(setValue("craft.load", { ...fast, ...how }, "how the load hangs"));
					}}
				>
					{Object.keys(WAYS).map((each) => (
						<option key={each}>{each}</option>
					))}
				</select>
			</label>
			{way === "on a tether" ? <Fields base="craft.load.tether" fields={TETHER} /> : null}
			{way === "liquid that sloshes" ? <Fields base="craft.load.liquid" fields={LIQUID} /> : null}
		</section>
	);
}
