import { describe, expect, it } from "vitest";
import { type Craft, NOMINAL_POINT, type OperatingPoint } from "../../src/craft/model.ts";
import { servoAmperes } from "../../src/craft/servo-current.ts";
import { type DrillEvent, STILL_AIR } from "../../src/flight/drill.ts";
import { createFlight, fly } from "../../src/flight/engine.ts";
import type { FlightResult } from "../../src/flight/result.ts";
import { good, textOf } from "../scenario/files.ts";

const DEG = Math.PI / 180;
const G = 9.80665;
const { craft, gainSets, drills } = good(textOf("sandpiper"));
const gainSet = gainSets[1]!;
const { battery, supply, propulsion } = craft;
const [boom, scoop] = craft.limb!.links as [
	NonNullable<Craft["limb"]>["links"][0],
	NonNullable<Craft["limb"]>["links"][0],
];
/** Half full: half way between the table's points. */
const openV = battery.openCircuitV[battery.stateOfCharge.indexOf(battery.nominal)]!;
const REACHED = [Math.PI, -Math.PI];

const flown = (
	events: DrillEvent[],
	each: Craft = craft,
	point: OperatingPoint = NOMINAL_POINT,
	durationSec = 5,
): FlightResult =>
	fly({
		craft: each,
		point,
		gainSet,
		drill: { name: "test", about: "", durationSec, heightM: 8, seed: 3, events, wind: STILL_AIR },
		options: { noise: false, rounding: false },
	});
const reachAt = (atSec: number, degrees: number): DrillEvent[] =>
	[degrees, -degrees].map((angle, link) => ({ atSec, kind: "limb", link, angleRad: angle * DEG }));
const CAUGHT: DrillEvent[] = [
	...reachAt(0.2, 90),
	{ atSec: 3, kind: "stuckGrip", stiffnessNPerM: 50, dampingNSecPerM: 2, durationSec: 4 },
	{ atSec: 3.5, kind: "limb", link: 0, angleRad: 20 * DEG },
];
const last = (column: Float64Array): number => column[column.length - 1]!;
const withSupply = (change: Partial<Craft["supply"]>, more: Partial<Craft["battery"]> = {}): Craft => ({
	...craft,
	supply: { ...supply, ...change },
	battery: { ...battery, ...more },
});
/** Behind the motors' efficiency and the supply, from what a trace shows. */
const wattsAt = ({ trace: { columns } }: FlightResult, i: number): number => {
	let shaft = 0;
	for (let rotor = 0; rotor < 4; rotor++)
		shaft += propulsion.torqueCoefficient * columns[`rotorSpeed${rotor}`]![i]! ** 3;
	const amperes = columns["limbCurrent0"]![i]! + columns["limbCurrent1"]![i]!;
	return shaft / battery.efficiency + battery.avionicsPowerW + supply.outputV * amperes;
};

describe("a servo's current", () => {
	it("is its stall current's share of its torque, and no more than that", () => {
		const servo = { stallCurrentA: 1.6, torqueLimitNm: 2.4 };
		expect(servoAmperes(servo, 0.6)).toBeCloseTo(0.4, 12);
		expect(servoAmperes(servo, -1.2)).toBeCloseTo(0.8, 12);
		expect(servoAmperes(servo, 9)).toBe(1.6);
	});

	it("stands in the trace beside its torque, whatever the limb does", () => {
		const { trace, status } = flown(CAUGHT, withSupply({ limitA: 100 }), NOMINAL_POINT, 5);
		expect(status).toBe("completed");
		for (const [i, { servo }] of [boom, scoop].entries()) {
			const torque = trace.columns[`limbTorque${i}`]!;
			const current = trace.columns[`limbCurrent${i}`]!;
			for (let k = 0; k < trace.length; k++)
				expect(current[k]).toBeCloseTo((servo.stallCurrentA * Math.abs(torque[k]!)) / servo.torqueLimitNm, 9);
		}
		// Blocked: it gives its limit and takes its stall current.
		expect(Math.max(...trace.columns["limbCurrent0"]!)).toBeCloseTo(1.6, 9);
	});
});

describe("the battery under a limb's servos", () => {
	it("falls by resistance times current, power in is power out: V (V0 - V)/R at every record", () => {
		const flight = flown([...CAUGHT, ...reachAt(4, 0)], withSupply({ limitA: 100 }));
		const volts = flight.trace.columns["batteryVoltage"]!;
		let most = 0;
		for (let i = 0; i < flight.trace.length; i++) {
			const drawn = (volts[i]! * (openV - volts[i]!)) / battery.resistanceOhm;
			expect(drawn / wattsAt(flight, i)).toBeCloseTo(1, 9);
			most = Math.max(most, drawn);
		}
		expect(most).toBeGreaterThan(100);
	});

	it("carries in hover what the held load's lever asks of the servo, already in the trim that a flight starts from", () => {
		const point = { ...NOMINAL_POINT, limbRad: REACHED, load: { massKg: 0.3 } };
		const flight = flown([{ atSec: 0.9, kind: "limb", link: 0, angleRad: Math.PI }], craft, point, 0.5);
		// Levers about the boom's hinge, 45 mm, as in tests/tuning/reach.test.ts.
		const torque =
			G *
			(boom.mass.massKg * (0.045 - boom.mass.centreOfMassM[0]) +
				scoop.mass.massKg * (scoop.mass.centreOfMassM[0] + 0.42 - 0.045) +
				0.3 * (0.255 - 0.045));
		const { columns } = flight.trace;
		expect(columns["limbCurrent0"]![0]).toBeCloseTo((1.6 * torque) / 2.4, 6);
		const V = columns["batteryVoltage"]![0]!;
		const power = wattsAt(flight, 0);
		expect(V).toBeCloseTo((openV + Math.sqrt(openV ** 2 - 4 * battery.resistanceOhm * power)) / 2, 9);
		// A flight in which no limb moves holds the same current throughout.
		const held = flown([], craft, point, 0.5).trace.columns["batteryVoltage"]!;
		expect(held[0]).toBeCloseTo(V, 9);
		expect(last(held)).toBeCloseTo(V, 3);
	});
});

describe("a supply that a limb draws down", () => {
	it("ends where electronics and servos ask for more than it gives, and names the servo", () => {
		const own = battery.avionicsPowerW / supply.outputV;
		const flight = flown(CAUGHT, withSupply({ limitA: own + 1.5 }));
		expect(flight.status).toBe("brownOut");
		const { columns } = flight.trace;
		const asked = own + last(columns["limbCurrent0"]!) + last(columns["limbCurrent1"]!);
		// The last record stands at most 2 ms before the end.
		expect(flight.timeSec - last(columns["time"]!)).toBeLessThan(0.0021);
		expect(asked).toBeGreaterThan(own + 1.5 - 0.05);
		const said = /ask the supply for ([\d.]+) A, it gives 2\.7 A; the servo of 'boom' draws ([\d.]+) A/.exec(
			flight.reason,
		)!;
		expect(Number(said[1])).toBeCloseTo(asked, 1);
		expect(Number(said[2])).toBeCloseTo(last(columns["limbCurrent0"]!), 1);
		// With all that both servos can ever take it lasts.
		expect(flown(CAUGHT, withSupply({ limitA: own + 1.6 + 0.8 })).status).toBe("completed");
	});

	it("ends where a weak battery falls below what the electronics need while the boom lifts a heavy load, and would not without servos", () => {
		// So weak that one volt is between resting servos and servos that pull.
		const weak = { resistanceOhm: 0.15 };
		const heavy: DrillEvent[] = [
			...reachAt(0.2, 150),
			{ atSec: 2.5, kind: "takeUp", massKg: 0.6, positionM: craft.limb!.gripM, inGrip: true },
		];
		const lifted = (each: Craft): FlightResult => flown(heavy, each, NOMINAL_POINT, 3.2);
		const idle = withLimbCurrents(withSupply({ limitA: 100 }, weak), 0);
		const strong = withLimbCurrents(withSupply({ limitA: 100 }, weak), 12);
		const least = (each: Craft): number => Math.min(...lifted(each).trace.columns["batteryVoltage"]!);
		const between = (least(idle) + least(strong)) / 2;
		expect(least(idle) - least(strong)).toBeGreaterThan(0.1);
		const end = lifted(withLimbCurrents(withSupply({ limitA: 100 }, { ...weak, brownOutV: between }), 12));
		expect(end.status).toBe("brownOut");
		expect(end.reason).toMatch(
			/^battery at [\d.]+ V, the electronics need [\d.]+ V; the servo of 'boom' draws [\d.]+ A/,
		);
		const lasts = lifted(withLimbCurrents(withSupply({ limitA: 100 }, { ...weak, brownOutV: between }), 0));
		expect(lasts.status).toBe("completed");
	});

	it("names the servo too where the limb only holds a load that is too heavy for the supply", () => {
		const point = { ...NOMINAL_POINT, limbRad: REACHED, load: { massKg: 0.3 } };
		const { status, reason, timeSec } = flown([], withSupply({ limitA: 1.7 }), point, 1);
		expect(status).toBe("brownOut");
		// 1.2 A of electronics and 0.84 N m of 2.4 N m at 1.6 A.
		expect(reason).toMatch(/ask the supply for 1\.7\d A, it gives 1\.7 A; the servo of 'boom' draws 0\.6 A/);
		expect(timeSec).toBeLessThan(0.01);
	});

	it("does so in the shipped drill with a blocked boom and a pump", () => {
		const drill = drills.find(({ name }) => name === "blocked boom, pump on")!;
		const { status, reason, timeSec } = fly({ craft, point: NOMINAL_POINT, gainSet, drill });
		expect(status).toBe("brownOut");
		expect(reason).toMatch(/it gives 4 A; the servo of 'boom' draws 1\.[456] A/);
		expect(timeSec).toBeGreaterThan(3.5);
	});
});

function withLimbCurrents(each: Craft, stallCurrentA: number): Craft {
	const links = each.limb!.links.map((link) => ({ ...link, servo: { ...link.servo, stallCurrentA } }));
	return { ...each, limb: { ...each.limb!, links } };
}

describe("a flight taken back to a snapshot", () => {
	it("draws what it drew there", () => {
		const flight = createFlight({
			craft: withSupply({ limitA: 100 }),
			point: NOMINAL_POINT,
			gainSet,
			drill: { name: "t", about: "", durationSec: 5, heightM: 8, seed: 3, events: CAUGHT, wind: STILL_AIR },
			options: { noise: false, rounding: false, recordPeriodUs: 0 },
		});
		flight.advanceTo(4.3e6);
		const there = flight.snapshot();
		flight.advanceTo(4.31e6);
		const first = flight.snapshot();
		flight.advanceTo(4.6e6);
		flight.restore(there);
		flight.advanceTo(4.31e6);
		expect(Math.max(...flight.state.map((v, i) => Math.abs(v - first[i]!)).filter(Number.isFinite))).toBe(0);
	});
});
