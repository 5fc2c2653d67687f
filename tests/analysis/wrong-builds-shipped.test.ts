import { describe } from "vitest";
import { wrongBuildLaws } from "../fixtures/wrong-build-laws.ts";

describe.each(["heron", "published-bouabdallah-2007", "published-luukkonen-2011"])("%s", wrongBuildLaws);
