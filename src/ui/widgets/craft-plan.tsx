import type { Craft } from "../../craft/model.ts";
import type { Vec3 } from "../../math/types.ts";
import type { CarriedLoad } from "../../physics/limb-tree.ts";
import { reachM, sweptArc } from "../three/craft-solids.ts";
import { limbPlaces, limbReachM, loadEdgeM, loadPlace } from "../three/limb-places.ts";

const VIEW = 400;

const LEVEL_DOWN: Vec3 = [0, 0, 1];

interface CraftPlanProps {
	readonly craft: Craft;
	readonly centreOfMassM: Vec3;
	readonly poseRad: readonly number[];
	readonly loads: readonly CarriedLoad[];
}

/** The craft from above, forward up: rotors with their spin and motor numbers, limb and load, centre of mass. */
export function CraftPlan({ craft, centreOfMassM, poseRad, loads }: CraftPlanProps) {
	const scale = (0.46 * VIEW) / Math.max(reachM(craft, [0, 0, 0]), limbReachM(craft, [0, 0, 0]));
	const limb = craft.limb ? limbPlaces(craft, poseRad) : null;
	const x = (place: Vec3): number => VIEW / 2 + scale * place[1];
	const y = (place: Vec3): number => VIEW / 2 - scale * place[0];
	const points = (places: readonly Vec3[]): string =>
		places.map((place) => `${x(place).toFixed(1)},${y(place).toFixed(1)}`).join(" ");
	const { radiusM } = craft.propulsion;
	return (
		<svg
			class="craft-plan"
			viewBox={`0 0 ${VIEW} ${VIEW}`}
			role="img"
			aria-label="The craft from above, forward up"
		>
			{limb ? (
				<g fill="none" stroke="currentColor" stroke-linecap="round">
					{limb.tubes.map(({ fromM, toM, radiusM }, i) => (
						<line
							key={craft.limb!.links[i]!.name}
							x1={x(fromM)}
							y1={y(fromM)}
							x2={x(toM)}
							y2={y(toM)}
							stroke-width={2 * radiusM * scale}
							stroke-opacity="0.3"
						/>
					))}
					<circle
						cx={x(limb.gripM)}
						cy={y(limb.gripM)}
						r={craft.limb!.gripRadiusM * scale}
						stroke-dasharray="3 3"
					/>
				</g>
			) : null}
			{loads.map((load, i) => {
				const { middleM } = loadPlace(craft, load, poseRad, LEVEL_DOWN);
				const edge = scale * loadEdgeM(craft, load);
				return (
					<rect
						key={i}
						x={x(middleM) - edge / 2}
						y={y(middleM) - edge / 2}
						width={edge}
						height={edge}
						fill="currentColor"
						fill-opacity="0.25"
						stroke="currentColor"
					/>
				);
			})}
			<g fill="none" stroke="currentColor" stroke-width="1.25">
				{craft.rotors.map(({ place, positionM, axis, spin }) => {
					const arc = sweptArc(positionM, axis, radiusM, spin, 40);
					const tip = arc[arc.length - 1]!;
					const before = arc[arc.length - 3]!;
					const angle = (Math.atan2(y(tip) - y(before), x(tip) - x(before)) * 180) / Math.PI;
					return (
						<g key={place}>
							<line x1={VIEW / 2} y1={VIEW / 2} x2={x(positionM)} y2={y(positionM)} />
							<polyline points={points(arc)} />
							<path
								fill="currentColor"
								d="M0 0 L-9 -4 L-9 4 Z"
								transform={`translate(${x(tip)} ${y(tip)}) rotate(${angle})`}
							/>
						</g>
					);
				})}
				<circle cx={x(centreOfMassM)} cy={y(centreOfMassM)} r="5" fill="currentColor" />
				<circle cx={x(centreOfMassM)} cy={y(centreOfMassM)} r="9" />
			</g>
			<g fill="currentColor" text-anchor="middle" font-size="13">
				{craft.rotors.map((rotor) => (
					<text key={rotor.place} x={x(rotor.positionM)} y={y(rotor.positionM) - 8}>
						{rotor.motorNumber} {rotor.place}
					</text>
				))}
				<text x={VIEW / 2} y="14">
					forward
				</text>
			</g>
			{craft.invented ? (
				<text x={VIEW / 2} y={VIEW - 6} fill="currentColor" text-anchor="middle" font-size="15">
					Invented craft
				</text>
			) : null}
		</svg>
	);
}
