import type { Verb } from "./session.ts";

/** In the order of the job; each is loaded when it is called, since loading all takes as long as most of them run. */
export const VERBS: { readonly [name: string]: () => Promise<Verb> } = {
	check: async () => (await import("./verbs/check.ts")).checkVerb,
	tune: async () => (await import("./verbs/tune.ts")).tuneVerb,
	fly: async () => (await import("./verbs/fly.ts")).flyVerb,
	margins: async () => (await import("./verbs/margins.ts")).marginsVerb,
	sweep: async () => (await import("./verbs/sweep.ts")).sweepVerb,
	compare: async () => (await import("./verbs/compare.ts")).compareVerb,
	loop: async () => (await import("./verbs/loop.ts")).loopVerb,
	demo: async () => (await import("./verbs/demo.ts")).demoVerb,
};
