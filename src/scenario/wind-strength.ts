const KNOT = 1852 / 3600;

/** Wind at 20 ft by strength: 15, 30, 45 knots (MIL-F-8785C). */
export const STRENGTH = { light: 15 * KNOT, moderate: 30 * KNOT, severe: 45 * KNOT };
