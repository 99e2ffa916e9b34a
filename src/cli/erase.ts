// `preen erase CRAFT ENTRY`: erases what an entry says, and the photos that it alone names, by a person with the role and
// for a legal reason; `--photo HASH` erases one photo that entries name, and leaves what they say. It speaks to the running
// server as that person's device would: enrols a key by PIN, pulls the ledger, signs the erasure, pushes it. The entry
// stays with its hash and signature, so that the record still proves itself; what is erased is gone from the server's disk
// and from every device that hears of it. The PIN comes in PREEN_PIN, never on the command line, which others can read.
import { randomBytes } from "node:crypto";
import type { CraftState } from "../core/facts/craft.ts";
import { msToInstant } from "../core/facts/instant.ts";
import { sha256, signerFromSeed } from "../crypto/node.ts";
import { noTrust } from "../ledger/acceptance.ts";
import { craftLedger } from "../ledger/craft/craft-ledger.ts";
import type { StoredEntry } from "../ledger/entry.ts";
import { foldLedger } from "../ledger/fold.ts";
import type { Folded } from "../ledger/fold.ts";
import { LedgerFold } from "../ledger/ledger-fold.ts";
import { reopenEntry } from "../ledger/open.ts";
import { operatorLedger } from "../ledger/operator/operator-ledger.ts";
import { photosNamed, photosOnlyOf } from "../ledger/photos.ts";
import { writeNext } from "../ledger/write-next.ts";
import { enrolRoute, helloRoute, pullRoute, pushRoute } from "../wire/exchange.ts";
import { problemShape } from "../wire/problem.ts";
import type { ReplyOf, Route } from "../wire/route.ts";
import { readCommandLine, runCommand, UsageError } from "./words.ts";

const usage =
  "PREEN_PIN=… preen erase CRAFT ENTRY|--photo HASH --person PERSON --role administrator|airworthiness --reason TEXT [--server URL]";
const roles = ["administrator", "airworthiness"];

export function run(given: readonly string[]): Promise<number> {
  return runCommand("erase", async () => {
    const wanted = readWanted(given);
    const talk = new Talk(wanted.server ?? "http://localhost:4717");
    const heard = await talk.ask(helloRoute, {});
    const { craft } = wanted;
    const ledger = heard.craft.find((one) => one.name === craft || one.ledger === craft)?.ledger;
    if (ledger === undefined) throw new UsageError(`no craft of this server is called ${craft}`);
    const signer = signerFromSeed(randomBytes(32));
    const { person, pin, at_ms } = wanted;
    const device = { person, pin, publicKey: signer.key, deviceName: "preen erase" };
    const { token } = await talk.ask(enrolRoute, { body: device });
    const operator = await talk.pull(heard.operator!.ledger, token);
    const root = { ...noTrust, root: heard.operator!.publicKey };
    const { trust } = foldLedger(operatorLedger, operator.map(reopenEntry), root).state;
    const folded = async (): Promise<LedgerFold<CraftState>> =>
      new LedgerFold(craftLedger, (await talk.pull(ledger, token)).map(reopenEntry), trust);
    const fold = await folded();
    const asked = erasuresOf(fold, wanted);
    const entries: StoredEntry[] = [];
    for (const { type, body } of asked) {
      const salt = randomBytes(16).toString("hex");
      const next = { ledger, type, body, by: person, at_ms, basis: {}, salt };
      const written = await writeNext(fold, next, signer, sha256);
      fold.add([reopenEntry(written)]);
      entries.push(written);
    }
    const { verdicts } = await talk.ask(pushRoute, { body: { entries }, token });
    // Received is not obeyed: whether it holds follows from the record, as every reader judges it.
    const { folded: after } = await folded();
    for (const [index, { what, holds }] of asked.entries()) {
      const { id } = entries[index]!;
      if (!holds(after)) {
        const why = after.statuses.get(id) ?? verdicts[index]?.code ?? "not received";
        throw new UsageError(`the erasure does not count (${why}); ${what} is still there`);
      }
      process.stdout.write(`erased ${what} at ${msToInstant(at_ms)} by ${id}\n`);
    }
    return 0;
  });
}

type Wanted = {
  readonly craft: string;
  /** The beginning of an entry's id, where what it says is to be erased. */
  readonly entry: string | undefined;
  readonly photo: string | undefined;
  readonly person: string;
  readonly pin: string;
  readonly role: string;
  readonly reason: string;
  readonly server: string | undefined;
  readonly at_ms: number;
};

function readWanted(given: readonly string[]): Wanted {
  const options = ["person", "role", "reason", "photo", "server"] as const;
  const { args, person, role, reason, photo, server, at_ms } = readCommandLine(given, 2, usage, options);
  const [craft, entry] = args;
  const pin = process.env["PREEN_PIN"];
  const needed = { CRAFT: craft, "--person": person, "--reason": reason, PREEN_PIN: pin };
  const missing = Object.entries(needed).flatMap(([name, value]) => (value ? [] : [name]));
  if ((entry === undefined) === (photo === undefined)) missing.push("one of ENTRY and --photo");
  if (photo !== undefined && !/^[0-9a-f]{64}$/u.test(photo)) missing.push("--photo (64 hexadecimal digits)");
  if (role === undefined || !roles.includes(role)) missing.push("--role");
  if (missing.length > 0) throw new UsageError(`missing or wrong: ${missing.join(", ")}\nusage: ${usage}`);
  const said = { craft: craft!, person: person!, pin: pin!, role: role!, reason: reason! };
  return { ...said, entry, photo, server, at_ms };
}

type Erasure = {
  /** In words: which entry, which photo. */
  readonly what: string;
  readonly type: string;
  readonly body: unknown;
  readonly holds: (after: Folded<CraftState>) => boolean;
};

/** What has to be written: photos before the entry that names them, while it can still be read. */
function erasuresOf({ folded }: LedgerFold<CraftState>, wanted: Wanted): readonly Erasure[] {
  const { craft, entry, role, reason } = wanted;
  const said = { role, legalReason: reason };
  const photo = (hash: string): Erasure => ({
    what: `photo ${hash}`,
    type: "photo.erased",
    body: { photo: hash, ...said },
    holds: ({ erasedPhotos }) => erasedPhotos.has(hash),
  });
  const entries = [...folded.ordered, ...folded.waiting];
  if (entry === undefined) {
    const hash = wanted.photo!;
    if (!photosNamed(entries).includes(hash))
      throw new UsageError(`no entry of ${craft} names photo ${hash}`);
    if (folded.erasedPhotos.has(hash)) throw new UsageError(`photo ${hash} is erased already`);
    return [photo(hash)];
  }
  const found = entries.filter(({ id }) => id.startsWith(entry));
  if (found.length !== 1)
    throw new UsageError(`${found.length} entries of ${craft} begin with ${entry}; name one whole`);
  const [{ id, erased }] = found as [(typeof found)[0]];
  if (erased) throw new UsageError(`${id} says nothing any more`);
  const alone = photosOnlyOf(id, entries).filter((hash) => !folded.erasedPhotos.has(hash));
  const body = { entry: id, ...said };
  const itself: Erasure = { what: id, type: "erase", body, holds: (after) => after.erased.has(id) };
  return [...alone.map(photo), itself];
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
