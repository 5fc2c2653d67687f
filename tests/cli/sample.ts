/** A craft of ten lines with equal clocks, two gain sets and two short drills: quick to answer, invented. */
const SAMPLE = {
	levelhead: 2,
	name: "sample",
	craft: {
		name: "sample",
		invented: true,
		mass: "1.2 kg",
		wheelbase: "450 mm",
		propeller: { diameter: "10 in" },
		motors: { maxThrust: "8.3 N", lag: "50 ms" },
		timing: {
			loop: "500 Hz",
			gyro: { period: "500 Hz", bus: 0 },
			frame: { period: "500 Hz", phase: 0 },
			pulse: { kind: "digital", transport: "100 us" },
		},
	},
	gainSets: [set("A", 3, 0.06, 0.05), set("B", 5, 0.1, 0.15)],
	drills: [
		{
			name: "roll step",
			about: "Roll 10 deg at once.",
			duration: "1.5 s",
			events: [{ kind: "angle", at: "0.25 s", axis: "roll", angle: "10 deg" }],
		},
		{
			name: "side gust",
			about: "A gust of 4 m/s.",
			duration: "2 s",
			wind: { gusts: [{ at: "0.25 s", velocity: [0, "4 m/s", 0], rise: "0.5 s", ending: "returns" }] },
		},
	],
};

function set(name: string, kAngle: number, kp: number, ki: number) {
	const limits = {
		integralLimit: 0.15,
		outputLimit: 0.3,
		rateLimit: "200 deg/s",
		derivativeCutoff: "40 Hz",
	};
	const tilt = { kAngle, kp, ki, kd: 0.002, ...limits };
	return { name, roll: tilt, pitch: tilt, yaw: { kp: 0.2, ki: 0.1, ...limits } };
}

type Document = typeof SAMPLE;

/** The sample's text, changed by hand. */
export function sample(change: (document: Document & { [key: string]: unknown }) => void = () => {}): string {
	const copy = structuredClone(SAMPLE) as Document & { [key: string]: unknown };
	change(copy);
	return JSON.stringify(copy, null, "\t");
}

/** The files that tests see beside the real ones. */
export const FILES = {
	"sample.json": sample(),
	"no-sets.json": sample((d) => {
		d.gainSets = [];
	}),
	"unstable.json": sample((d) => {
		for (const axis of ["roll", "pitch"] as const) d.gainSets[0]![axis].kp = 5;
	}),
	"too-heavy.json": sample((d) => {
		d.craft.mass = "6 kg";
	}),
	"typo.json": sample((d) => {
		const craft = d.craft as Record<string, unknown>;
		craft["wheelbas"] = craft["wheelbase"];
		delete craft["wheelbase"];
	}),
};
