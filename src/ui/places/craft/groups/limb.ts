import { BODY, type FieldGroup, quantity, vector } from "../craft-field.ts";

const LIMB = "craft.limb";

export const LIMB_GROUP: FieldGroup = {
	title: "Reach arm",
	about: "A limb of hinged links that reaches, takes up and lets go. Its folded mass is in the craft's.",
	sections: [
		{ title: "Links", fields: [{ as: "limb", path: `${LIMB}.links`, label: "Links of the reach arm" }] },
		{
			title: "Grip",
			fields: [
				vector(
					`${LIMB}.grip`,
					"length",
					"Where a load is held, limb folded",
					BODY,
					(s) => s.craft.limb?.gripM ?? [0, 0, 0],
					{
						onlyWith: LIMB,
					},
				),
				quantity(`${LIMB}.gripRadius`, "length", "Room about the grip", {
					about: "That must stay clear of propellers.",
					onlyWith: LIMB,
				}),
				vector("craft.load.gripOffset", "length", "Load's middle from the grip", BODY, () => [0, 0, 0], {
					onlyWith: LIMB,
				}),
			],
		},
	],
};
