import { writeFileSync } from "node:fs";
import { jsonSchemaText } from "../../src/scenario/json-schema.ts";

// node --import tsx docs/make/scenario-schema.ts
writeFileSync(new URL("../scenario.schema.json", import.meta.url), jsonSchemaText());
