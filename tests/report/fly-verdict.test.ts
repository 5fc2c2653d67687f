import { expect, test } from "vitest";
import { NOMINAL_POINT } from "../../src/craft/model.ts";
import { type Drill, type DrillEvent, STILL_AIR } from "../../src/flight/drill.ts";
import { fly } from "../../src/flight/engine.ts";
import { flightJson } from "../../src/report/fly-json.ts";
import { standardDrills } from "../../src/scenario/standard-drills.ts";
import { sampleCraft, sampleGains } from "../fixtures/craft.ts";

const craft = sampleCraft();
const gains = sampleGains();

function flown(drill: Drill, gainSet = gains, point = NOMINAL_POINT) {
	const flight = fly({ craft, point, gainSet, drill });
	return { flight, json: flightJson(flight, craft, point, drill, gainSet) };
}

function drill(durationSec: number, events: readonly DrillEvent[], change: Partial<Drill> = {}): Drill {
	return { name: "d", about: "", durationSec, heightM: 10, seed: 1, events, wind: STILL_AIR, ...change };
}

const standard = (name: string): Drill => {
	const found = standardDrills(craft).find((each) => each.name === name);
	if (!found) throw new Error(`no drill '${name}'`);
	return found;
};

/** Of all records, those with a motor at full or lowest, whatever the cause. */
function atAnEnd({ trace }: ReturnType<typeof fly>): number {
	const commands = Object.entries(trace.columns).flatMap(([name, column]) =>
		/^command\d+$/.test(name) ? [column] : [],
	);
	const { lowestSpin } = craft.mixer;
	let count = 0;
	for (let i = 0; i < trace.length; i++)
		if (commands.some((column) => column[i]! >= 1 || column[i]! <= lowestSpin)) count++;
	return count / trace.length;
}

test("full throttle that the drill asks for does not count against the gains", () => {
	const { flight, json } = flown({ ...standard("full throttle and back"), durationSec: 2.5 });
	expect(atAnEnd(flight)).toBeGreaterThan(0.25);
	expect(json.fails).toEqual([]);
	expect(json.actuators.saturatedPct).toBeLessThan(1);
	expect(json.actuators.leastHeadroomPct).toBe(0);
});

test("nor does a set-down that cuts throttle, with motors live on the ground after it", () => {
	const { flight, json } = flown(
		drill(
			4,
			[
				{ atSec: 0.1, kind: "throttle", throttle: 0, ofHover: 0.97 },
				{ atSec: 1.6, kind: "throttle", throttle: 0 },
			],
			{ heightM: 0.3 },
		),
	);
	expect(flight.status).toBe("completed");
	expect(atAnEnd(flight)).toBeGreaterThan(0.25);
	expect(json.fails).toEqual([]);
	expect(json.actuators.saturatedPct).toBeLessThan(1);
});

test("nor motors made live and then safe on the ground", () => {
	const { flight, json } = flown(
		drill(
			3,
			[
				{ atSec: 0.5, kind: "makeLive" },
				{ atSec: 2, kind: "makeSafe" },
			],
			{ heightM: 0, start: "ground" },
		),
	);
	expect(atAnEnd(flight)).toBeGreaterThan(0.95);
	expect(json.fails).toEqual([]);
	expect(json.actuators.saturatedPct).toBe(0);
});

test("nor what an integral that runs on sloping ground does to a motor", () => {
	const { ground } = standard("lift-off after a wait on a slope");
	const onGround = drill(
		9,
		[
			{ atSec: 0.2, kind: "makeLive" },
			{ atSec: 0.5, kind: "throttle", throttle: 0, ofHover: 0.35 },
		],
		{ heightM: 0, start: "ground", ground: ground! },
	);
	const runs = { ...gains, liftOff: null, roll: { ...gains.roll, ki: 1, integralLimit: 0.3 } };
	const { flight, json } = flown(onGround, runs);
	expect(flight.status).toBe("completed");
	expect(atAnEnd(flight)).toBeGreaterThan(0.25);
	expect(json.fails).toEqual([]);
	expect(json.actuators.saturatedPct).toBe(0);
});

test("gains that shake the craft between the ends still fail, with or without full throttle", () => {
	const wild = { ...gains, pitch: { ...gains.pitch, kd: 0, kp: 30 * gains.pitch.kp, outputLimit: 1 } };
	for (const name of ["pitch step", "full throttle and back"]) {
		const { flight, json } = flown(standard(name), wild);
		expect(flight.status, name).toBe("completed");
		expect(json.actuators.saturatedPct, name).toBeGreaterThan(25);
		expect(json.fails, name).toEqual([
			expect.stringMatching(
				/^roll, pitch and yaw had a motor at full or lowest \d+ % of the time, where throttle left room: the gains shake the craft/,
			),
		]);
	}
});

test("hover next to full throttle fails for want of a reserve", () => {
	const heavy = { ...NOMINAL_POINT, load: { massKg: 1.78 } };
	const hover = drill(3, [{ atSec: 0, kind: "angle", axis: "roll", angleRad: 0 }], {
		wind: { ...STILL_AIR, turbulence: { windAt20FtMPerSec: 15 } },
	});
	const { flight, json } = flown(hover, gains, heavy);
	const throttle = flight.trace.columns["throttle"]![0]!;
	expect(throttle).toBeGreaterThan(0.97);
	expect(throttle).toBeLessThan(1);
	expect(flight.status).toBe("completed");
	expect(json.fails[0]).toMatch(/or there is no reserve$/);
});
