// `npm test`: sets up what is missing and runs every check. Plain syntax for Node 20 and newer.
import { runPrepared } from "./run-prepared.mjs";

if (!(await runPrepared("tools/test-run/main.ts", { dev: true })))
  process.stdout.write("0 passed, 1 failed\n");
