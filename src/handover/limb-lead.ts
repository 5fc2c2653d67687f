import { type Craft, NOMINAL_POINT } from "../craft/model.ts";
import { trimSlopes } from "../flight/limb-lead.ts";
import { STANDARD_GRAVITY } from "../physics/plant.ts";
import { plantAt } from "../physics/plant-at.ts";
import { outputPerU } from "./firmware-gains.ts";
import type { FirmwareUnits } from "./firmware-units.ts";
import { OUTPUT_NAMES, three } from "./unit-labels.ts";

/**
 * The feedforward from limb and load, `limbLead` of a gain set, as the builder's own code has it: each tick
 *
 *     m_x, m_y = sum over links and load of mass x (place of its middle now - at take-off), forward and right; a load taken up since counts from the reference point
 *     pitch output += lead.pitch (9.81 m_x)        roll output -= lead.roll (9.81 m_y)        kg m to N m to output
 *
 * before the output's limit. `limbLead` itself is a share without a unit; what a code multiplies by is per N m.
 */
export interface LimbLeadGains {
	readonly roll: number;
	readonly pitch: number;
}

/** u per N m that the motors must give in hover, nominal battery, without load: between `limbLead` and what the code multiplies by. */
export function leadFactors(craft: Craft): LimbLeadGains {
	const [right, forward] = trimSlopes(craft, plantAt(craft, NOMINAL_POINT), NOMINAL_POINT);
	// Weight to the right rolls right: the motors turn it back.
	return { roll: -right / STANDARD_GRAVITY, pitch: forward / STANDARD_GRAVITY };
}

/** `limbLead` to output units per N m. */
export function leadToFirmware(
	limbLead: number,
	factors: LimbLeadGains,
	units: FirmwareUnits,
): LimbLeadGains {
	return {
		roll: limbLead * factors.roll * outputPerU(units, "roll"),
		pitch: limbLead * factors.pitch * outputPerU(units, "pitch"),
	};
}

/**
 * The way back.
 * @throws RangeError where the two axes are not of one `limbLead`: there is one for both.
 */
export function leadFromFirmware(typed: LimbLeadGains, factors: LimbLeadGains, units: FirmwareUnits): number {
	const one = leadToFirmware(1, factors, units);
	const roll = typed.roll / one.roll;
	const pitch = typed.pitch / one.pitch;
	if (!(Math.abs(roll - pitch) <= 1e-6 * Math.abs(pitch)))
		throw new RangeError(
			`limb lead: roll ${typed.roll} and pitch ${typed.pitch} per N m are limbLead ${three(roll)} and ${three(pitch)}, expected one for both`,
		);
	return pitch;
}

/** 'us per N m' */
export const leadUnit = (units: FirmwareUnits): string => `${OUTPUT_NAMES[units.output]} per N m`.trim();

/** What the firmware must compute, with this craft's numbers and one worked example. */
export function describeLimbLead(limbLead: number, craft: Craft, units: FirmwareUnits): string {
	const factors = leadFactors(craft);
	const gains = leadToFirmware(limbLead, factors, units);
	const unit = leadUnit(units);
	const worked = (axis: "roll" | "pitch"): string => {
		const entry = units.outputFullScale / outputPerU(units, axis);
		return [
			`limbLead ${three(limbLead)} x ${three(factors[axis])} per N m`,
			...(units.output === "fraction" && units.outputFullScale === 1
				? []
				: [`x ${three(units.outputFullScale)} ${OUTPUT_NAMES[units.output]}`.trim()]),
			...(entry === 1 ? [] : [`/ ${three(entry)}`]),
			`= ${three(gains[axis])} ${unit}`,
		].join(" ");
	};
	const massKg = craft.load.massKg > 0 ? craft.load.massKg : 0.1;
	const torque = STANDARD_GRAVITY * massKg * EXAMPLE_M;
	return [
		"Limb lead: every tick your code adds up, over each link and the load, mass x how far its middle has moved since take-off (a load taken up since: its place from the craft's reference point) x 9.81: a torque in N m.",
		`Of the way forward, add ${three(gains.pitch)} ${unit} to pitch's output; of the way to the right, take ${three(gains.roll)} ${unit} from roll's; both before the output limit.`,
		`Pitch: ${worked("pitch")}. Roll: ${worked("roll")}.`,
		`Example: ${three(1000 * massKg)} g that moved ${three(1000 * EXAMPLE_M)} mm forward ask for ${three(torque)} N m, so pitch gets ${`${three(gains.pitch * torque)} ${OUTPUT_NAMES[units.output]}`.trim()} more.`,
		"The numbers hold in hover at the nominal battery.",
	].join(" ");
}

const EXAMPLE_M = 0.1;
