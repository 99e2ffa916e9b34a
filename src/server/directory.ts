// The directory: who the people are (names, roles, PIN hashes) and which devices hold a token. In a file of its own,
// apart from the ledger, so that a person can be erased and backups of names can be kept shorter than the record.
import { createHash, randomBytes } from "node:crypto";
import { SqliteFile, type SqliteRow, type SqliteSchema } from "../store/sqlite-file.ts";
import { isPin, longestWait_ms, pinHashOf, waitAfter_ms } from "./pin.ts";

export const directorySchema: SqliteSchema = {
  applicationId: 0x50_72_64_31, // "Prd1"
  steps: [
    `CREATE TABLE person (
       id TEXT PRIMARY KEY,
       name TEXT NOT NULL,
       roles TEXT NOT NULL,
       pin TEXT NOT NULL,
       wrong INTEGER NOT NULL DEFAULT 0,
       wait_until_ms INTEGER NOT NULL DEFAULT 0
     ) STRICT, WITHOUT ROWID;
     CREATE TABLE device (
       token TEXT PRIMARY KEY,
       person TEXT NOT NULL REFERENCES person (id) ON DELETE CASCADE,
       key TEXT NOT NULL,
       name TEXT NOT NULL,
       enrolled_ms INTEGER NOT NULL
     ) STRICT, WITHOUT ROWID`,
  ],
};

export type Person = { readonly id: string; readonly name: string; readonly roles: readonly string[] };
export type Device = { readonly person: string; readonly key: string; readonly name: string };

/** `wrong` and `locked` say how long to wait before the next try. */
export type PinVerdict =
  | { readonly kind: "right"; readonly person: Person }
  | { readonly kind: "wrong" | "locked"; readonly wait_ms: number };

export class Directory {
  readonly #sql: SqliteFile;
  readonly #pinCost: number;

  constructor(file: string, pinCost: number) {
    this.#pinCost = pinCost;
    this.#sql = new SqliteFile(file, directorySchema, { sole: true });
  }

  people(): readonly Person[] {
    return this.#sql.all("SELECT id, name, roles FROM person ORDER BY name, id").map(personFrom);
  }

  person(id: string): Person | null {
    const row = this.#sql.get("SELECT id, name, roles FROM person WHERE id = ?", id);
    return row === undefined ? null : personFrom(row);
  }

  /** Adds people that are not in it yet, all or none; those that are, stay as they are. */
  async addPeople(people: readonly (Person & { readonly pin: string })[]): Promise<void> {
    const hashes = await Promise.all(people.map(({ pin }) => pinHashOf(pin, this.#pinCost)));
    this.#sql.transaction(() => {
      for (const [i, { id, name, roles }] of people.entries()) {
        this.#sql.run(
          "INSERT INTO person (id, name, roles, pin) VALUES (?, ?, ?, ?) ON CONFLICT (id) DO NOTHING",
          id,
          name,
          JSON.stringify(roles),
          hashes[i]!,
        );
      }
    });
  }

  /** Removes the name, the PIN and the tokens of a person; what they signed stays under their id. */
  erasePerson(id: string): boolean {
    return this.#sql.run("DELETE FROM person WHERE id = ?", id) === 1;
  }

  /**
   * Tries a PIN. The try is counted before it is checked, so that many at once gain nothing, and survives a restart.
   * An unknown person is answered like a wrong PIN.
   */
  async tryPin(id: string, pin: string, now_ms: number): Promise<PinVerdict> {
    const row = this.#sql.get(
      "SELECT id, name, roles, pin, wrong, wait_until_ms FROM person WHERE id = ?",
      id,
    );
    if (row === undefined) return { kind: "wrong", wait_ms: waitAfter_ms(1) };
    const left_ms = Number(row["wait_until_ms"]) - now_ms;
    // A longer wait than any that is given out means that the clock was set back meanwhile.
    if (left_ms > 0 && left_ms <= longestWait_ms) return { kind: "locked", wait_ms: left_ms };
    const wrong = Number(row["wrong"]) + 1;
    const wait_ms = waitAfter_ms(wrong);
    this.#sql.run("UPDATE person SET wrong = ?, wait_until_ms = ? WHERE id = ?", wrong, now_ms + wait_ms, id);
    if (!(await isPin(pin, String(row["pin"])))) return { kind: "wrong", wait_ms };
    this.#sql.run("UPDATE person SET wrong = 0, wait_until_ms = 0 WHERE id = ?", id);
    return { kind: "right", person: personFrom(row) };
  }

  /** Gives a device its token: shown once, kept as a hash only. */
  addDevice({ person, key, name }: Device, now_ms: number): string {
    const token = randomBytes(32).toString("base64url");
    this.#sql.run("INSERT INTO device VALUES (?, ?, ?, ?, ?)", hashOf(token), person, key, name, now_ms);
    return token;
  }

  deviceOf(token: string): Device | null {
    const row = this.#sql.get("SELECT person, key, name FROM device WHERE token = ?", hashOf(token));
    return row === undefined
      ? null
      : { person: String(row["person"]), key: String(row["key"]), name: String(row["name"]) };
  }

  close(): void {
    this.#sql.close();
  }
}

function personFrom(row: SqliteRow): Person {
  return {
    id: String(row["id"]),
    name: String(row["name"]),
    roles: JSON.parse(String(row["roles"])) as readonly string[],
  };
}

/** A token is 256 bits of chance: one fast hash is enough to keep the table worthless to a thief. */
function hashOf(token: string): string {
  return createHash("sha256").update(token).digest("hex");
}
