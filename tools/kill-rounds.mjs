// `npm run kill-rounds [-- ROUNDS]`: kills a process that writes into the store and looks whether anything was lost. Plain
// syntax for Node 20.
import { runPrepared } from "./run-prepared.mjs";

await runPrepared("src/store/sqlite-kill.ts", { dev: true });
