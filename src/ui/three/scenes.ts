export { CraftScene } from "./craft-scene.ts";
export { ReplayScene } from "./replay-scene.ts";
