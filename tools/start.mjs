// `npm start`: installs if the lock has changed, builds if the app's sources have changed, and runs the server until it
// is told to stop. A supervisor should run `node tools/start.mjs` itself: npm does not pass every signal on.
// Plain syntax for Node 20 and newer.
import { ensureBuilt } from "./build.mjs";
import { runPrepared } from "./run-prepared.mjs";

await runPrepared("src/server/main.ts", {
  dev: false,
  before: ensureBuilt,
  diesWithParent: process.env.npm_lifecycle_event === "start",
});
