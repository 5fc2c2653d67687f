import type { Mat3 } from "../../../../math/types.ts";
import { formatQuantity } from "../../../../units/format.ts";
import { BODY, type FieldGroup, plain, quantity, vector, yesNo } from "../craft-field.ts";

const PRODUCTS = ["roll-pitch (xy)", "roll-yaw (xz)", "pitch-yaw (yz)"];
const tensor = (j: Mat3): number[] => [j[0], j[4], j[8], j[1], j[2], j[5]];
const ABOUT = ["roll", "pitch", "yaw"];

export const AIRFRAME: FieldGroup = {
	title: "Airframe and parts",
	about:
		"What it weighs, where, and how it stands. With parts written down, mass and inertia come from them.",
	sections: [
		{
			title: "Parts",
			fields: [{ as: "parts", path: "craft.parts", label: "Parts" }],
		},
		{
			title: "Mass and balance",
			fields: [
				quantity("craft.mass", "mass", "Mass, ready to fly", {
					about: "Battery in, no load. With parts it may stay empty: they add up.",
					otherwise: (s) => formatQuantity("mass", s.craft.bare.massKg),
				}),
				vector("craft.centreOfMass", "length", "Centre of mass", BODY, (s) => s.craft.bare.centreOfMassM, {
					about: "From the reference point, the middle of the frame.",
				}),
				vector("craft.inertia", "inertia", "Inertia about", ABOUT, (s) => tensor(s.craft.bare.inertiaKgM2), {
					about: "About the centre of mass.",
					more: PRODUCTS,
				}),
			],
		},
		{
			title: "Feet",
			fields: [
				quantity("craft.airframe.feetBelow", "length", "Feet below the reference point"),
				{
					as: "table",
					path: "craft.airframe.feet",
					label: "Where the feet stand",
					row: "foot",
					columns: BODY.map((label, key) => ({ key, label, of: "length" })),
					least: 3,
					most: 8,
					begin: (s) =>
						s.craft.airframe.feetM.map((foot) => foot.map((each) => formatQuantity("length", each, 5))),
				},
			],
		},
		{
			title: "In wind and near the ground",
			fields: [
				vector(
					"craft.airframe.dragArea",
					"area",
					"Drag area",
					["forward", "sideways", "up"],
					(s) => s.craft.airframe.dragAreaM2,
					{ about: "Drag coefficient times area." },
				),
				vector(
					"craft.airframe.centreOfPressure",
					"length",
					"Where wind pushes",
					BODY,
					(s) => s.craft.airframe.centreOfPressureM,
				),
				quantity("craft.airframe.span", "length", "Tip to tip", {
					about: "For turbulence.",
					otherwise: (s) => formatQuantity("length", s.craft.airframe.spanM),
				}),
				yesNo("craft.airframe.groundEffect", "Ground effect", { otherwise: "yes, unless said" }),
			],
		},
		{
			title: "Load",
			fields: [
				quantity("craft.load.mass", "mass", "Heaviest load", { assumedAt: "craft.load", otherwise: "none" }),
				vector("craft.load.position", "length", "Middle of the load", BODY, (s) => s.craft.load.positionM),
				quantity("craft.load.size", "length", "Edge of the load", {
					about: "It is taken for a cube.",
					unless: "craft.load.inertia",
				}),
				vector(
					"craft.load.inertia",
					"inertia",
					"Inertia of the load about",
					ABOUT,
					(s) => tensor(s.craft.load.inertiaKgM2),
					{ about: "In place of the cube.", more: PRODUCTS },
				),
			],
		},
		{
			title: "A load that swings or sloshes",
			fields: [
				quantity("craft.load.tether.length", "length", "Hangs on a tether of", { otherwise: "held fast" }),
				quantity("craft.load.tether.damping", "fraction", "Damping ratio of its swing", {
					onlyWith: "craft.load.tether",
				}),
				quantity("craft.load.liquid.diameter", "length", "Liquid in a round tank, across", {
					otherwise: "no liquid",
					groupPath: "craft.load.liquid",
					unless: "craft.load.tether",
				}),
				quantity("craft.load.liquid.depth", "length", "Depth of the liquid", { unless: "craft.load.tether" }),
				quantity("craft.load.liquid.share", "fraction", "Or share that sloshes", {
					unless: "craft.load.tether",
				}),
				quantity("craft.load.liquid.pendulum", "length", "As a pendulum of", { unless: "craft.load.tether" }),
				quantity("craft.load.liquid.damping", "fraction", "Damping ratio of its slosh", {
					onlyWith: "craft.load.liquid",
				}),
			],
		},
		{
			title: "Name and note",
			fields: [
				plain("text", "craft.name", "Name of the craft"),
				yesNo("craft.invented", "Invented: no one built it", { otherwise: "no, unless said" }),
				plain("long text", "craft.note", "Note"),
			],
		},
	],
};
