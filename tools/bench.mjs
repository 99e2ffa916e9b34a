// `npm run bench`: sets up what is missing and runs the benchmarks. Plain syntax for Node 20 and newer.
import { runPrepared } from "./run-prepared.mjs";

await runPrepared("bench/run.ts", { dev: true });
