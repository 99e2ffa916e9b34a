// `preen erase CRAFT ENTRY`: erases what an entry says, by a person with the role and for a legal reason. It speaks to the
// running server as that person's device would: enrols a key by PIN, pulls the ledger, signs the erasure, pushes it. The
// entry stays with its hash and signature, so that the record still proves itself; what it said is gone from the server's
// disk and from every device that hears of it. The PIN comes in PREEN_PIN, never on the command line, which others can read.
import { randomBytes } from "node:crypto";
import { msToInstant } from "../core/facts/instant.ts";
import { sha256, signerFromSeed } from "../crypto/node.ts";
import { noTrust } from "../ledger/acceptance.ts";
import { craftLedger } from "../ledger/craft/craft-ledger.ts";
import type { StoredEntry } from "../ledger/entry.ts";
import { foldLedger } from "../ledger/fold.ts";
import { LedgerFold } from "../ledger/ledger-fold.ts";
import { reopenEntry } from "../ledger/open.ts";
import { operatorLedger } from "../ledger/operator/operator-ledger.ts";
import { writeNext } from "../ledger/write-next.ts";
import { enrolRoute, helloRoute, pullRoute, pushRoute } from "../wire/exchange.ts";
import { problemShape } from "../wire/problem.ts";
import type { ReplyOf, Route } from "../wire/route.ts";
import { readCommandLine, runCommand, UsageError } from "./words.ts";

const usage =
  "PREEN_PIN=… preen erase CRAFT ENTRY --person PERSON --role administrator|airworthiness --reason TEXT [--server URL]";
const roles = ["administrator", "airworthiness"];

export function run(given: readonly string[]): Promise<number> {
  return runCommand("erase", async () => {
    const options = ["person", "role", "reason", "server"] as const;
    const { args, person, role, reason, server, at_ms } = readCommandLine(given, 2, usage, options);
    const [craft, entry] = args;
    const pin = process.env["PREEN_PIN"];
    const wanted = { CRAFT: craft, ENTRY: entry, "--person": person, "--reason": reason, PREEN_PIN: pin };
    const missing = Object.entries(wanted).flatMap(([name, value]) => (value ? [] : [name]));
    if (role === undefined || !roles.includes(role)) missing.push("--role");
    if (missing.length > 0) throw new UsageError(`missing or wrong: ${missing.join(", ")}\nusage: ${usage}`);
    const talk = new Talk(server ?? "http://localhost:4717");
    const heard = await talk.ask(helloRoute, {});
    const ledger = heard.craft.find((one) => one.name === craft || one.ledger === craft)?.ledger;
    if (ledger === undefined) throw new UsageError(`no craft of this server is called ${craft}`);
    const signer = signerFromSeed(randomBytes(32));
    const device = { person: person!, pin: pin!, publicKey: signer.key, deviceName: "preen erase" };
    const { token } = await talk.ask(enrolRoute, { body: device });
    const operator = await talk.pull(heard.operator!.ledger, token);
    const { trust } = foldLedger(operatorLedger, operator.map(reopenEntry), {
      ...noTrust,
      root: heard.operator!.publicKey,
    }).state;
    const fold = new LedgerFold(craftLedger, (await talk.pull(ledger, token)).map(reopenEntry), trust);
    const found = [...fold.folded.ordered, ...fold.folded.waiting].filter(({ id }) => id.startsWith(entry!));
    if (found.length !== 1)
      throw new UsageError(`${found.length} entries of ${craft} begin with ${entry}; name one whole`);
    const [{ id, erased }] = found as [(typeof found)[0]];
    if (erased) throw new UsageError(`${id} says nothing any more`);
    const body = { entry: id, role, legalReason: reason };
    const next = {
      ledger,
      type: "erase",
      body,
      by: person!,
      at_ms,
      basis: {},
      salt: randomBytes(16).toString("hex"),
    };
    const written = await writeNext(fold, next, signer, sha256);
    const { verdicts } = await talk.ask(pushRoute, { body: { entries: [written] }, token });
    // Received is not obeyed: whether it holds follows from the record, as every reader judges it.
    const after = new LedgerFold(craftLedger, (await talk.pull(ledger, token)).map(reopenEntry), trust);
    const { erased: gone, statuses } = after.folded;
    if (!gone.has(id)) {
      const why = statuses.get(written.id) ?? verdicts[0]?.code ?? "not received";
      throw new UsageError(`the erasure does not count (${why}); ${id} still says what it said`);
    }
    process.stdout.write(`erased ${id} at ${msToInstant(at_ms)} by ${written.id}\n`);
    return 0;
  });
}

type Ask = { readonly body?: unknown; readonly token?: string; readonly query?: string };

/** Calls of the server's routes, answers read by the wire's own schemas. */
class Talk {
  readonly #url: string;
  constructor(url: string) {
    this.#url = url;
  }

  async ask<R extends Route>(route: R, { body, token, query = "" }: Ask): Promise<ReplyOf<R>> {
    const response = await fetch(`${this.#url}${route.path}${query}`, {
      method: route.method,
      headers: {
        ...(body === undefined ? {} : { "content-type": "application/json" }),
        ...(token === undefined ? {} : { authorization: `Bearer ${token}` }),
      },
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
    }).catch((error: unknown) => {
      throw new UsageError(`${this.#url} does not answer (${String(error)}); name it with --server`);
    });
    const answer: unknown = await response.json();
    const problem = problemShape.safeParse(answer);
    if (!response.ok)
      throw new UsageError(problem.success ? problem.data.message : `status ${response.status}`);
    return route.reply.parse(answer) as ReplyOf<R>;
  }

  async pull(ledger: string, token: string): Promise<readonly StoredEntry[]> {
    const entries: StoredEntry[] = [];
    for (let cursor: string | null = null; ;) {
      const query = new URLSearchParams({ ledger, ...(cursor === null ? {} : { cursor }) });
      const page: ReplyOf<typeof pullRoute> = await this.ask(pullRoute, { token, query: `?${query}` });
      entries.push(...page.entries);
      cursor = page.cursor;
      if (!page.more) return entries;
    }
  }
}
