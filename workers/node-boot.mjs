// Node 20 starts no .ts worker by itself: the loader is registered here, then the worker proper is imported.
import { workerData } from "node:worker_threads";
import { register } from "tsx/esm/api";

register({ tsconfig: false });
await import(workerData.entry);
