import { hoverTrim } from "../analysis/hover.ts";
import { type Clearance, clearanceAt } from "../craft/limb-pose.ts";
import type { Craft, OperatingPoint } from "../craft/model.ts";
import { servoAmperes } from "../craft/servo-current.ts";
import { poseAt } from "../physics/plant-at.ts";

/** A link at an operating point, hovering. */
interface LinkNow {
	readonly name: string;
	readonly angleRad: number;
	/** That the servo holds its pose with; null where the craft cannot hover. */
	readonly torqueNm: number | null;
	readonly limitNm: number;
	/** In proportion to its stall current. */
	readonly currentA: number | null;
}

export interface LimbNow {
	readonly links: readonly LinkNow[];
	readonly clearance: Clearance;
}

/** The limb at an operating point: pose, nearest propeller, and what each servo gives to hold still in hover. Null: no limb. */
export function limbNow(craft: Craft, point: OperatingPoint): LimbNow | null {
	const { limb } = craft;
	if (!limb) return null;
	const pose = poseAt(craft, point);
	const { result, servoNm } = hoverTrim(craft, point);
	const torques = result.feasible ? servoNm : null;
	return {
		clearance: clearanceAt(craft, pose),
		links: limb.links.map(({ name, servo }, i) => {
			const torqueNm = torques ? torques[i]! : null;
			const limitNm = servo.torqueLimitNm;
			return {
				name,
				angleRad: pose[i]!,
				torqueNm,
				limitNm,
				currentA: torqueNm === null ? null : servoAmperes(servo, torqueNm),
			};
		}),
	};
}
