// `npm run simulate [-- WORLDS [SEED]]`: devices, network and crashes in worlds drawn from seeds. Plain syntax for Node 20.
import { runPrepared } from "./run-prepared.mjs";

await runPrepared("sim/ledger/simulate.ts", { dev: true });
