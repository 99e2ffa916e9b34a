// PINs: kept as scrypt (RFC 7914) with a salt of their own, and guarded against guessing by a wait that doubles with
// every wrong try. The hash alone would not guard four digits against somebody who holds the file; the wait guards them
// against somebody at the door.
import { randomBytes, scrypt, timingSafeEqual, type ScryptOptions } from "node:crypto";

/** The N of scrypt. About 0.1 s and 32 MB on a small machine: RFC 7914 names 2^14 for interactive use, this is twice. */
export const usualPinCost = 2 ** 15;
const [blockSize, lanes] = [8, 1];
const maxmem = 64 * 1024 * 1024;
const keyBytes = 32;

/** `scrypt$N$r$p$salt$key`, so that a later cost can stand beside this one. */
export async function pinHashOf(pin: string, cost: number): Promise<string> {
  const salt = randomBytes(16);
  const key = await derive(pin, salt, { N: cost, r: blockSize, p: lanes, maxmem });
  return ["scrypt", cost, blockSize, lanes, salt.toString("hex"), key.toString("hex")].join("$");
}

/** False for a wrong PIN; throws (Error) on a hash that it did not write. */
export async function isPin(pin: string, hash: string): Promise<boolean> {
  const match = /^scrypt\$(\d+)\$(\d+)\$(\d+)\$([0-9a-f]{32})\$([0-9a-f]{64})$/u.exec(hash);
  if (match === null) throw new Error("a PIN hash of another form");
  const [N, r, p] = [Number(match[1]), Number(match[2]), Number(match[3])];
  const found = await derive(pin, Buffer.from(match[4]!, "hex"), { N, r, p, maxmem });
  return timingSafeEqual(found, Buffer.from(match[5]!, "hex"));
}

function derive(pin: string, salt: Buffer, options: ScryptOptions): Promise<Buffer> {
  return new Promise((resolve, reject) => {
    // NFKC: the same digits typed on another keyboard are the same PIN.
    scrypt(pin.normalize("NFKC"), salt, keyBytes, options, (error, key) =>
      error ? reject(error) : resolve(key),
    );
  });
}

/** A quarter of an hour: longer would let anybody shut a pilot out before a shift. */
export const longestWait_ms = 900_000;

/** How long to wait after the nth wrong try in a row: 1 s, 2 s, 4 s, … up to a quarter of an hour. */
export function waitAfter_ms(wrongInARow: number): number {
  return wrongInARow === 0 ? 0 : Math.min(longestWait_ms, 1_000 * 2 ** Math.min(wrongInARow - 1, 20));
}
