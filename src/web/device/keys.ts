// The keys on this device, one per person, each with what proves its person (a slow hash of the PIN) and the token by
// which the device exchanges. Kept in a database apart from the entries, so that no export or backup carries a key.
//
// What this guards: a colleague who picks up the tablet. What it does not: somebody who takes the tablet apart. The
// private half of a native key cannot be read out even by this program. Wrong PINs wait longer and longer.
import { openDB } from "idb";
import type { DBSchema, IDBPDatabase } from "idb";
import { fromHex, toHex } from "../../ledger/crypto.ts";
import type { KeptKey } from "../../crypto/web.ts";

export type Enrolment = {
  readonly person: string;
  readonly key: KeptKey;
  readonly token: string;
  readonly pinSalt: string;
  readonly pinHash: string;
  readonly wrong: number;
  readonly lockedUntil_ms: number;
};

interface KeySchema extends DBSchema {
  enrolment: { key: string; value: Enrolment };
}

/** Iterations of PBKDF2-HMAC-SHA-256; about a quarter of a second on a tablet. */
const iterations = 210_000;
const freeTries = 4;
const firstWait_ms = 30_000;
const longestWait_ms = 3_600_000;

export async function pinHash(pin: string, salt: string): Promise<string> {
  const material = await crypto.subtle.importKey("raw", new TextEncoder().encode(pin), "PBKDF2", false, [
    "deriveBits",
  ]);
  const bits = await crypto.subtle.deriveBits(
    { name: "PBKDF2", hash: "SHA-256", salt: new Uint8Array(fromHex(salt)), iterations },
    material,
    256,
  );
  return toHex(new Uint8Array(bits));
}

export function newSalt(): string {
  return toHex(crypto.getRandomValues(new Uint8Array(16)));
}

export class Keys {
  readonly #db: IDBPDatabase<KeySchema>;

  private constructor(db: IDBPDatabase<KeySchema>) {
    this.#db = db;
  }

  static async open(): Promise<Keys> {
    return new Keys(
      await openDB<KeySchema>("preen-keys", 1, { upgrade: (db) => void db.createObjectStore("enrolment") }),
    );
  }

  async of(person: string): Promise<Enrolment | null> {
    return (await this.#db.get("enrolment", person)) ?? null;
  }

  async all(): Promise<readonly Enrolment[]> {
    return this.#db.getAll("enrolment");
  }

  async put(enrolment: Enrolment): Promise<void> {
    await this.#db.put("enrolment", enrolment, enrolment.person);
  }

  /** Checks a PIN against what this device keeps; counts wrong ones and makes them wait. */
  async check(
    enrolment: Enrolment,
    pin: string,
    now_ms: number,
  ): Promise<{ readonly right: boolean; readonly wait_ms: number }> {
    if (now_ms < enrolment.lockedUntil_ms)
      return { right: false, wait_ms: enrolment.lockedUntil_ms - now_ms };
    const right = (await pinHash(pin, enrolment.pinSalt)) === enrolment.pinHash;
    const wrong = right ? 0 : enrolment.wrong + 1;
    const wait_ms =
      wrong <= freeTries ? 0 : Math.min(longestWait_ms, firstWait_ms * 2 ** (wrong - freeTries - 1));
    await this.put({ ...enrolment, wrong, lockedUntil_ms: wait_ms === 0 ? 0 : now_ms + wait_ms });
    return { right, wait_ms };
  }
}
