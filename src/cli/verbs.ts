import type { Verb } from "./session.ts";
import { checkVerb } from "./verbs/check.ts";
import { compareVerb } from "./verbs/compare.ts";
import { demoVerb } from "./verbs/demo.ts";
import { flyVerb } from "./verbs/fly.ts";
import { loopVerb } from "./verbs/loop.ts";
import { marginsVerb } from "./verbs/margins.ts";
import { sweepVerb } from "./verbs/sweep.ts";
import { tuneVerb } from "./verbs/tune.ts";

/** In the order of the job. */
export const VERBS: readonly Verb[] = [
	checkVerb,
	tuneVerb,
	flyVerb,
	marginsVerb,
	sweepVerb,
	compareVerb,
	loopVerb,
	demoVerb,
];
