// `npm run fuzz:weather [-- COUNT [SEED]]`: throws damaged reports at the weather reader. Plain syntax for Node 20.
import { runPrepared } from "./run-prepared.mjs";

await runPrepared("sim/weather/fuzz.ts", { dev: true });
