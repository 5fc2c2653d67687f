import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { createMixer, type MixerGeometry, type MixerOptions } from "../../src/control/mixer.ts";
import { sampleCraft } from "../fixtures/craft.ts";

const craft = sampleCraft();
const geometry: MixerGeometry = {
	centreOfMassM: [0, 0, 0],
	referenceVoltageV: 14.8,
	rotors: craft.rotors.map((r) => ({
		positionM: r.positionM,
		axis: r.axis,
		spin: r.spin,
		thrustSlope: 12,
		torqueSlope: 0.21,
	})),
};
const options: MixerOptions = craft.mixer;
const share = fc.double({ min: -2, max: 2, noNaN: true });
const unit = fc.double({ min: 0, max: 1, noNaN: true });
const volts = fc.double({ min: 9, max: 17, noNaN: true });

function mix(
	throttle: number,
	u: readonly [number, number, number],
	change: Partial<MixerOptions> = {},
	voltage = 14.8,
) {
	const mixer = createMixer({ ...options, ...change }, geometry);
	const out = new Float64Array(6 + mixer.rotorCount);
	out.set(u);
	const saturated = mixer.mix(Float64Array.of(throttle, voltage), 0, out, 0, 3, 6);
	return { saturated, delivered: [...out.slice(3, 6)], commands: [...out.slice(6)], mixer };
}
const rows = [0, 1, 2, 3];

describe("mixer", () => {
	it("has the signs of common practice: roll trades left against right, pitch front against rear, yaw the diagonals", () => {
		const { mixer } = mix(0.5, [0, 0, 0]);
		// Front right, rear right, rear left, front left; roll right side down speeds the left pair up.
		const column = (axis: number) => rows.map((i) => mixer.table[3 * i + axis]!);
		for (const [axis, signs] of [
			[0, [-1, -1, 1, 1]],
			[1, [1, -1, -1, 1]],
			// Counter-clockwise rotors drag the nose to the right.
			[2, [1, -1, 1, -1]],
		] as const)
			column(axis).forEach((x, i) => {
				expect(x).toBeCloseTo(signs[i]!, 12);
			});
	});
	it("turns a pure u into that torque alone, also about a centre of mass off the middle and with six rotors", () => {
		const six: MixerGeometry = {
			...geometry,
			centreOfMassM: [0.02, -0.01, 0.03],
			rotors: [0, 1, 2, 3, 4, 5].map((i) => ({
				positionM: [0.3 * Math.cos((i * Math.PI) / 3), 0.3 * Math.sin((i * Math.PI) / 3), 0] as const,
				axis: [0, 0, -1] as const,
				spin: i % 2 ? 1 : (-1 as 1 | -1),
				thrustSlope: 10,
				torqueSlope: 0.2,
			})),
		};
		const { table } = createMixer(options, six);
		const effect = (column: number) => {
			const sum = [0, 0, 0, 0];
			six.rotors.forEach((r, i) => {
				const m = table[3 * i + column]!;
				sum[0]! += m * 10;
				sum[1]! += -m * 10 * (r.positionM[1] + 0.01);
				sum[2]! += m * 10 * (r.positionM[0] - 0.02);
				sum[3]! += -m * r.spin * 0.2;
			});
			return sum;
		};
		for (const axis of [0, 1, 2]) {
			const sum = effect(axis);
			expect(Math.max(...rowsOf(table, axis).map(Math.abs))).toBeCloseTo(1, 12);
			sum.forEach((x, i) => {
				if (i === axis + 1) expect(x).toBeGreaterThan(0.1);
				else expect(x).toBeCloseTo(0, 10);
			});
		}
	});
	it("is linear where nothing saturates", () => {
		fc.assert(
			fc.property(fc.tuple(share, share, share), (u) => {
				const small = u.map((x) => x * 0.05) as [number, number, number];
				const { commands, delivered, saturated, mixer } = mix(0.5, small);
				expect(saturated).toBe(false);
				expect(delivered).toEqual(small);
				for (const i of rows)
					expect(commands[i]).toBeCloseTo(
						0.5 + [0, 1, 2].reduce((s, j) => s + mixer.table[3 * i + j]! * small[j]!, 0),
						12,
					);
			}),
		);
	});
	it("never leaves lowest spin .. 1, whatever is asked", () => {
		fc.assert(
			fc.property(
				unit,
				fc.tuple(share, share, share),
				unit,
				fc.boolean(),
				volts,
				unit,
				(t, u, lambda, comp, v, cap) => {
					const { commands, delivered } = mix(
						2 * t - 0.5,
						u,
						{ thrustLinearisation: lambda, batteryCompensation: comp, throttleRiseCap: cap },
						v,
					);
					for (const c of commands) {
						expect(c).toBeGreaterThanOrEqual(options.lowestSpin);
						expect(c).toBeLessThanOrEqual(1);
					}
					// Delivered is a share of what was asked, axis by axis.
					delivered.forEach((d, i) => {
						expect(d * u[i]!).toBeGreaterThanOrEqual(0);
						expect(Math.abs(d)).toBeLessThanOrEqual(Math.abs(u[i]!));
					});
				},
			),
		);
	});
	it("delivers exactly what it reports: the commands' own projection on each column", () => {
		fc.assert(
			fc.property(unit, fc.tuple(share, share, share), (t, u) => {
				const { commands, delivered, mixer } = mix(t, u);
				for (const axis of [0, 1, 2]) {
					const column = rowsOf(mixer.table, axis);
					const projected = column.reduce((s, m, i) => s + (m * commands[i]!) / 4, 0);
					expect(projected).toBeCloseTo(delivered[axis]!, 9);
				}
			}),
		);
	});
	it("keeps roll and pitch and throttle whenever giving up yaw suffices", () => {
		fc.assert(
			fc.property(unit, fc.tuple(share, share, share), (t, u) => {
				const throttle = options.lowestSpin + t * (1 - options.lowestSpin);
				const bare = Math.abs(u[0]) + Math.abs(u[1]);
				fc.pre(throttle + bare <= 1 && throttle - bare >= options.lowestSpin);
				const { delivered, commands } = mix(throttle, u);
				expect(delivered[0]).toBe(u[0]);
				expect(delivered[1]).toBe(u[1]);
				expect(commands.reduce((a, b) => a + b) / 4).toBeCloseTo(throttle, 12);
			}),
		);
	});
	it("raises throttle by no more than the cap, lowers it as far as needed", () => {
		const low = mix(0.1, [0.3, 0, 0], { throttleRiseCap: 0.1 });
		expect(low.commands.reduce((a, b) => a + b) / 4).toBeCloseTo(0.2, 12);
		expect(low.delivered[0]).toBeCloseTo(0.2 - 0.08, 12);
		const high = mix(1, [0.3, 0, 0.2]);
		expect(high.delivered[0]).toBeCloseTo(0.3, 12);
		expect(high.commands.reduce((a, b) => a + b) / 4).toBeCloseTo(0.7, 12);
		expect(high.delivered[2]).toBeCloseTo(0, 12);
	});
	describe("says that the axes have a motor at an end", () => {
		const ends = (
			throttle: number,
			u: readonly [number, number, number],
			change: Partial<MixerOptions> = {},
		) => mix(throttle, u, change).saturated;

		it("where throttle between the ends leaves too little room, for any axis, to either side", () => {
			for (const axis of [0, 1, 2]) {
				const u = [0, 0, 0].map((_, i) => (i === axis ? 0.2 : 0)) as [number, number, number];
				expect(ends(0.5, u)).toBe(false);
				expect(ends(0.9, u)).toBe(true);
				expect(ends(options.lowestSpin + 0.1, u)).toBe(true);
			}
		});
		it("not where throttle itself asks for that end", () => {
			for (const u of [
				[0, 0, 0],
				[0.05, -0.02, 0.03],
			] as const)
				for (const throttle of [1, 1.2, options.lowestSpin, 0]) expect(ends(throttle, u)).toBe(false);
			// A low battery that is made up for: full comes before the end of the stick.
			const compensated = { batteryCompensation: true };
			expect(mix(0.95, [0.05, 0, 0], compensated, 13).saturated).toBe(false);
			expect(mix(0.85, [0.05, 0, 0], compensated, 13).saturated).toBe(true);
		});
		it("but so where they reach the other one from there", () => {
			expect(ends(1, [0.6, 0, 0])).toBe(true);
			expect(ends(0, [0.9, 0, 0], { throttleRiseCap: 1 })).toBe(true);
		});
	});
	it("linearises thrust and compensates the battery, with the slope that it reports", () => {
		const change = { thrustLinearisation: 1, batteryCompensation: true };
		const { commands, mixer } = mix(0.36, [0, 0, 0], change, 13);
		expect(commands[0]).toBeCloseTo((14.8 / 13) * 0.6, 12);
		expect(mixer.demandFor(commands[0]!, 13)).toBeCloseTo(0.36, 12);
		const h = 1e-6;
		const rise =
			mix(0.36 + h, [0, 0, 0], change, 13).commands[0]! - mix(0.36 - h, [0, 0, 0], change, 13).commands[0]!;
		expect(mixer.slope(commands[0]!, 13)).toBeCloseTo(rise / (2 * h), 7);
		expect(mix(0, [0, 0, 0], { thrustLinearisation: 1, lowestSpin: 0 }).commands).toEqual([0, 0, 0, 0]);
	});
	it("takes the builder's table as it is", () => {
		const table = [
			[-0.5, 0.5, 0.3],
			[-0.5, -0.5, -0.3],
			[0.5, -0.5, 0.3],
			[0.5, 0.5, -0.3],
		] as const;
		expect([...mix(0.5, [0, 0, 0], { table }).mixer.table]).toEqual(table.flat());
	});
	it("says what is wrong", () => {
		expect(() => createMixer({ ...options, lowestSpin: 2 }, geometry)).toThrow(/lowestSpin: 2/);
		expect(() => createMixer({ ...options, table: [] }, geometry)).toThrow(/one per rotor/);
		const same = {
			...geometry,
			rotors: geometry.rotors.map((r) => ({ ...r, spin: 1 as const, torqueSlope: 0 })),
		};
		expect(() => createMixer(options, same)).toThrow(/not independent/);
	});
});

function rowsOf(table: Float64Array, axis: number): number[] {
	return Array.from({ length: table.length / 3 }, (_, i) => table[3 * i + axis]!);
}
