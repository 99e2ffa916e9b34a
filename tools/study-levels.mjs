// `npm run study:levels`: measures the methods that watch a gauge, and writes bench/levels-study.md. Plain syntax for Node 20.
import { runPrepared } from "./run-prepared.mjs";

await runPrepared("sim/levels/study.ts", { dev: true });
