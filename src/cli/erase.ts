// `preen erase LEDGER ENTRY` (a craft or a base by its name, or `operator`): erases what an entry says, and the photos that
// it alone names, by a person with the role and for a legal reason; `--photo HASH` erases one photo that entries name, and
// leaves what they say. It speaks to the running server as that person's device would: enrols a key by PIN, pulls the
// ledger, signs the erasure, pushes it. The entry stays with its hash and signature, so that the record still proves
// itself; what is erased is gone from the server's disk and from every device that hears of it. The PIN comes in
// PREEN_PIN, never on the command line, which others can read. Nothing is written for somebody without the role: an
// erasure that does not count would stand aside, and make the craft not known.
import { randomBytes } from "node:crypto";
import { msToInstant } from "../core/facts/instant.ts";
import { sha256, signerFromSeed } from "../crypto/node.ts";
import { noTrust } from "../ledger/acceptance.ts";
import { baseLedger } from "../ledger/base/base-ledger.ts";
import { craftLedger } from "../ledger/craft/craft-ledger.ts";
import type { StoredEntry } from "../ledger/entry.ts";
import { foldLedger } from "../ledger/fold.ts";
import type { Folded, LedgerDefinition } from "../ledger/fold.ts";
import { LedgerFold } from "../ledger/ledger-fold.ts";
import { reopenEntry } from "../ledger/open.ts";
import { operatorLedger } from "../ledger/operator/operator-ledger.ts";
import { photosNamed, photosOnlyOf } from "../ledger/photos.ts";
import { writeNext } from "../ledger/write-next.ts";
import { enrolRoute, helloRoute, pushRoute } from "../wire/exchange.ts";
import type { ReplyOf } from "../wire/route.ts";
import { Talk } from "./talk.ts";
import { readCommandLine, runCommand, UsageError } from "./words.ts";

const usage =
  "PREEN_PIN=… preen erase LEDGER ENTRY|--photo HASH --person PERSON --role administrator|airworthiness --reason TEXT [--server URL]";
const mayErase = ["administrator", "airworthiness"];

export function run(given: readonly string[]): Promise<number> {
  return runCommand("erase", async () => {
    const wanted = readWanted(given);
    const talk = new Talk(wanted.server ?? "http://localhost:4717");
    const heard = await talk.ask(helloRoute, {});
    const ledger = ledgerNamed(heard, wanted.named);
    assertRole(heard, wanted);
    const signer = signerFromSeed(randomBytes(32));
    const { person, pin, at_ms } = wanted;
    const device = { person, pin, publicKey: signer.key, deviceName: "preen erase" };
    const { token } = await talk.ask(enrolRoute, { body: device });
    const operator = await talk.pull(heard.operator!.ledger, token);
    const root = { ...noTrust, root: heard.operator!.publicKey };
    const { trust } = foldLedger(operatorLedger, operator.map(reopenEntry), root).state;
    const folded = async (): Promise<LedgerFold<object>> =>
      new LedgerFold(definitionOf(ledger), (await talk.pull(ledger, token)).map(reopenEntry), {
        ...(ledger.startsWith("operator:") ? root : trust),
      });
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

type Heard = ReplyOf<typeof helloRoute>;

/** A craft or a base by its name, the operator as `operator`, or any of them by its ledger. */
function ledgerNamed({ craft, bases, operator }: Heard, named: string): string {
  const all = [...craft, ...bases, ...(operator === null ? [] : [{ ...operator, name: "operator" }])];
  const found = all.find(({ name, ledger }) => name === named || ledger === named)?.ledger;
  if (found !== undefined) return found;
  const known = all.map(({ name }) => name).join(", ");
  throw new UsageError(`no ledger of this server is called ${named}; there are ${known}`);
}

function assertRole({ people }: Heard, { person, role }: Wanted): void {
  const roles = people.find(({ id }) => id === person)?.roles;
  if (roles === undefined) throw new UsageError(`nobody of this server has the id ${person}`);
  if (!roles.includes(role))
    throw new UsageError(
      `${person} acts as ${roles.join(", ") || "nobody"}, and not as ${role}; nothing was written`,
    );
}

function definitionOf(ledger: string): LedgerDefinition<object> {
  const definition = ledger.startsWith("operator:")
    ? operatorLedger
    : ledger.startsWith("base:")
      ? baseLedger
      : craftLedger;
  return definition as LedgerDefinition<object>;
}

type Wanted = {
  readonly named: string;
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
  const [named, entry] = args;
  const pin = process.env["PREEN_PIN"];
  const needed = { LEDGER: named, "--person": person, "--reason": reason, PREEN_PIN: pin };
  const missing = Object.entries(needed).flatMap(([name, value]) => (value ? [] : [name]));
  if ((entry === undefined) === (photo === undefined)) missing.push("one of ENTRY and --photo");
  if (photo !== undefined && !/^[0-9a-f]{64}$/u.test(photo)) missing.push("--photo (64 hexadecimal digits)");
  if (role === undefined || !mayErase.includes(role)) missing.push("--role");
  if (missing.length > 0) throw new UsageError(`missing or wrong: ${missing.join(", ")}\nusage: ${usage}`);
  const said = { named: named!, person: person!, pin: pin!, role: role!, reason: reason! };
  return { ...said, entry, photo, server, at_ms };
}

type Erasure = {
  /** In words: which entry, which photo. */
  readonly what: string;
  readonly type: string;
  readonly body: unknown;
  readonly holds: (after: Folded<object>) => boolean;
};

/** What has to be written: photos before the entry that names them, while it can still be read. */
function erasuresOf({ folded }: LedgerFold<object>, wanted: Wanted): readonly Erasure[] {
  const { named, entry, role, reason } = wanted;
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
      throw new UsageError(`no entry of ${named} names photo ${hash}`);
    if (folded.erasedPhotos.has(hash)) throw new UsageError(`photo ${hash} is erased already`);
    return [photo(hash)];
  }
  const found = entries.filter(({ id }) => id.startsWith(entry));
  if (found.length !== 1)
    throw new UsageError(`${found.length} entries of ${named} begin with ${entry}; name one whole`);
  const [{ id, erased }] = found as [(typeof found)[0]];
  if (erased) throw new UsageError(`${id} says nothing any more`);
  const alone = photosOnlyOf(id, entries).filter((hash) => !folded.erasedPhotos.has(hash));
  const body = { entry: id, ...said };
  const itself: Erasure = { what: id, type: "erase", body, holds: (after) => after.erased.has(id) };
  return [...alone.map(photo), itself];
}
