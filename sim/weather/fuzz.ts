// Reads a million damaged weather reports: `npm run fuzz:weather [-- COUNT [SEED]]`. Ends with 1 at the first fault,
// and prints the seed and number that bring it back.

import { randomFrom } from "../../demo/random.ts";
import { faultsOf } from "./check-report.ts";
import { mutatedReport } from "./mutate-report.ts";

const [count = 1_000_000, seed = 1] = process.argv.slice(2).map(Number);
const random = randomFrom(seed);
const began_ms = performance.now();
let slowest = { took_ms: 0, text: "" };

for (let number = 0; number < count; number += 1) {
  const { text, near_ms } = mutatedReport(random);
  const start_ms = performance.now();
  let faults: string[];
  try {
    faults = faultsOf(text, near_ms);
  } catch (error) {
    faults = [String((error as Error).stack)];
  }
  const took_ms = performance.now() - start_ms;
  if (took_ms > slowest.took_ms) slowest = { took_ms, text };
  if (faults.length > 0) {
    process.stderr.write(
      `seed ${seed}, report ${number}: ${JSON.stringify(text)}\n  ${faults.join("\n  ")}\n`,
    );
    process.exit(1);
  }
}

const took_s = (performance.now() - began_ms) / 1000;
process.stdout.write(
  `${count} damaged reports from seed ${seed}: no fault, ${took_s.toFixed(1)} s\n` +
    `slowest ${slowest.took_ms.toFixed(1)} ms: ${JSON.stringify(slowest.text.slice(0, 100))}\n`,
);
