import type { CraftInput } from "./input.ts";
import type { Air } from "./model.ts";
import { COMMON, type Notes } from "./notes.ts";

/** ISO 2533:1975, standard atmosphere. */
const ISO = {
	seaLevelPa: 101325,
	seaLevelK: 288.15,
	lapseKPerM: 0.0065,
	gasConstant: 287.05287,
	gravity: 9.80665,
} as const;
/** kg/m^3 at sea level. */
export const STANDARD_DENSITY = 1.225;
/** The top of the layer that the formula below holds in, m. */
export const HIGHEST_ALTITUDE = 11000;

/**
 * Air density of ISO 2533:1975 up to 11 km: p = p0 (1 - L h/T0)^(g/(R L)), rho = p/(R T), h geopotential in metres.
 * With a temperature of the day, the pressure stays the standard one. @throws RangeError outside 11 km.
 */
export function isaDensity(altitudeM: number, temperatureK?: number): number {
	if (!(altitudeM >= -1000 && altitudeM <= HIGHEST_ALTITUDE))
		throw new RangeError(`isaDensity: altitude ${altitudeM} m, expected -1000 to ${HIGHEST_ALTITUDE} m`);
	const standardK = ISO.seaLevelK - ISO.lapseKPerM * altitudeM;
	const pressure =
		ISO.seaLevelPa * (standardK / ISO.seaLevelK) ** (ISO.gravity / (ISO.gasConstant * ISO.lapseKPerM));
	return pressure / (ISO.gasConstant * (temperatureK ?? standardK));
}

export function resolveAir(input: CraftInput, notes: Notes): Air {
	const air = input.air ?? {};
	if (air.density !== undefined) {
		for (const other of ["altitude", "temperature"] as const)
			if (air[other] !== undefined)
				notes.problem(`craft.air.${other}`, air[other], "nothing here, since 'density' is given");
		return { densityKgM3: air.density };
	}
	if (air.altitude !== undefined || air.temperature !== undefined)
		return { densityKgM3: isaDensity(air.altitude ?? 0, air.temperature) };
	return {
		densityKgM3: notes.assume(undefined, "density", {
			path: "craft.air.density",
			value: STANDARD_DENSITY,
			because: "sea level, 15 degC; 1000 m higher has 9 % less thrust",
			source: `ISO 2533:1975; that you fly there: ${COMMON}`,
			measure: "write 'altitude' and 'temperature' of your field",
		}),
	};
}
