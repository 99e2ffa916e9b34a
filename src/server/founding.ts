// Founding: an operator's server starts empty and prints a code; whoever has it makes the operator and the first
// administrator, once. The code lives in memory only and is another at each start.
import { randomBytes, randomInt, timingSafeEqual } from "node:crypto";
import { msToInstant } from "../core/facts/instant.ts";
import type { LedgerId } from "../ledger/entry.ts";
import type { foundRoute } from "../wire/founding.ts";
import type { BodyOf } from "../wire/route.ts";
import type { OperatorServer } from "./operator-server.ts";
import { ProblemError } from "./problem-error.ts";

/** Read aloud and typed by hand: no letters or digits that look alike. 50 bits, for one wrong guess a second. */
const letters = "abcdefghjkmnpqrstuvwxyz23456789";

export class Founding {
  readonly code = Array.from({ length: 10 }, () => letters[randomInt(letters.length)]).join("");
  readonly #server: OperatorServer;
  #lastTry_ms = Number.NEGATIVE_INFINITY;

  constructor(server: OperatorServer) {
    this.#server = server;
  }

  get isDue(): boolean {
    return this.#server.mode === "operator" && this.#server.record.operator === null;
  }

  async found({ code, operatorName, administrator }: BodyOf<typeof foundRoute>): Promise<LedgerId> {
    const { record, directory, keyring, exchange } = this.#server;
    if (!this.isDue) throw new ProblemError("alreadyFounded");
    this.#assertCode(code);
    const ledger = `operator:${randomBytes(6).toString("hex")}`;
    const at = msToInstant(this.#server.now_ms());
    await directory.addPeople([{ ...administrator, roles: ["administrator"] }]);
    await exchange.inTurn(async () => {
      if (!this.isDue) throw new ProblemError("alreadyFounded");
      const body = { name: operatorName, root: keyring.root.key, at };
      await record.append([
        await record.seal(keyring.root, "operator", { ledger, type: "operator.opened", body }),
      ]);
      await record.certifyServer(keyring.root, keyring.server);
    });
    return ledger;
  }

  #assertCode(code: string): void {
    const now_ms = performance.now();
    if (now_ms - this.#lastTry_ms < 1_000) throw new ProblemError("tooFast", { retryAfter_ms: 1_000 });
    this.#lastTry_ms = now_ms;
    const [found, wanted] = [Buffer.from(code), Buffer.from(this.code)];
    if (found.length !== wanted.length || !timingSafeEqual(found, wanted))
      throw new ProblemError("codeWrong");
  }
}
