import type { Craft } from "../../craft/model.ts";
import type { Vec3 } from "../../math/types.ts";
import { reachM, sweptArc } from "../three/craft-solids.ts";

const VIEW = 400;

/** The craft from above, forward up: rotors with their spin and motor numbers, centre of mass. */
export function CraftPlan({ craft, centreOfMassM }: { readonly craft: Craft; readonly centreOfMassM: Vec3 }) {
	const scale = (0.46 * VIEW) / reachM(craft, [0, 0, 0]);
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
