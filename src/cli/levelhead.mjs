#!/usr/bin/env node
// The command as installed: TypeScript is loaded as it stands, from whatever folder the command is called in.
import { register } from "tsx/esm/api";

register({ tsconfig: false });
await import("./start.ts");
