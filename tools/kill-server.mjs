// `npm run kill-server [-- ROUNDS]`: kills the server under load and looks whether anything was lost. Plain syntax for Node 20.
import { runPrepared } from "./run-prepared.mjs";

await runPrepared("src/server/kill-server.ts", { dev: true });
