/** A vector in three dimensions. Frame and unit are stated where it is used. */
export type Vec3 = readonly [number, number, number];

/** A 3 x 3 matrix, row by row. */
export type Mat3 = readonly [number, number, number, number, number, number, number, number, number];

/** Attitude as a unit quaternion (w, x, y, z), body to world. */
export type Quat = readonly [number, number, number, number];
