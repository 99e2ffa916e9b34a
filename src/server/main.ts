// The server's process: settings from the environment, what is printed, signals, exit codes.
// 0 after a stop by SIGTERM or SIGINT; 1 when it cannot start, with one line that says what to do.
import { join } from "node:path";
import { StoreError } from "../store/store-error.ts";
import { settingsFrom } from "./settings.ts";
import { StartError } from "./start-error.ts";
import { startServer, type RunningServer } from "./start.ts";

const root = join(import.meta.dirname, "..", "..");

const settings = settingsFrom(process.env, root);
if ("mode" in settings) {
  try {
    const running = await startServer(settings, {
      root,
      onFault: (error, what) => console.error(`preen: ${what} failed:`, error),
    });
    stopOnSignals(running);
    console.log(`listening ${running.url}`);
    await announce(running);
  } catch (error) {
    const isTold = error instanceof StartError || error instanceof StoreError;
    console.error("preen:", isTold ? error.message : error);
    process.exitCode = 1;
  }
} else {
  for (const { name, found, wanted } of settings)
    console.error(`preen: ${name}: found ${found}, wanted ${wanted}`);
  process.exitCode = 1;
}

/** What a person needs to go on. */
async function announce({ server, foundingCode, url }: RunningServer): Promise<void> {
  if (foundingCode !== null)
    console.log(
      `This server is empty. Found its operator with this code: ${foundingCode} (POST ${url}/api/found)`,
    );
  if (server.mode === "demo") {
    const { demoGreeting } = await import("./demo-greeting.ts");
    for (const line of await demoGreeting(server)) console.log(line);
  }
}

/** A first signal lets what is running finish; a second one does not wait for it. */
function stopOnSignals({ stop }: RunningServer): void {
  let stopping = false;
  const onSignal = (): void => {
    if (stopping) process.exit(1);
    stopping = true;
    void stop().then(
      () => process.exit(0),
      (error: unknown) => {
        console.error("preen: while stopping:", error);
        process.exit(1);
      },
    );
  };
  process.on("SIGTERM", onSignal);
  process.on("SIGINT", onSignal);
}
