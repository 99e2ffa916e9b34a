// Child of sqlite-kill.ts: appends one entry after another, with a snapshot after every fourth, and prints the number of each only once it is acknowledged.
// Arguments: file, first number, how many (until killed when left out).
import { writeSync } from "node:fs";
import { sampleEntry } from "./contract.ts";
import { SqliteStore } from "./sqlite.ts";

const [file, first, count] = process.argv.slice(2);
const store = new SqliteStore(file!);
const end = count === undefined ? Number.POSITIVE_INFINITY : Number(first) + Number(count);
for (let n = Number(first); n < end; n++) {
  await store.append([sampleEntry("craft:a", n)]);
  // Half a megabyte that begins and ends with its number: half of one would be seen.
  if (n % 4 === 0) await store.writeSnapshot("craft:a", `${n} ${"0123456789abcdef".repeat(32_768)} ${n}`);
  writeSync(1, `${n}\n`);
}
await store.close();
