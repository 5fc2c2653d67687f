import sandpiper from "../../scenarios/sandpiper.json";
import { FIRST_VIEW } from "../../src/ui/state/first-view.ts";
import type { PageState } from "../../src/ui/state/model.ts";

/** The demo as a page begins with it. */
export const DEMO_STATE: PageState = { document: sandpiper, view: FIRST_VIEW };
