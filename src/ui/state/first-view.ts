import type { View } from "./model.ts";

export const FIRST_VIEW: View = {
	place: "craft",
	set: "",
	shown: [],
	base: "",
	point: "",
	drill: "",
	axis: "roll",
	proofOpen: false,
};
