// Several devices that keep the record of one craft and exchange it for real: what each person does is told as a deed on
// what their own device holds, written as an entry of the real types, and carried by the real exchange through a world of
// lost answers and crashes (sim/sync/world.ts). For the laws that speak of what devices recorded apart. Signatures are
// blank, as in world.ts beside this: nothing in fold or exchange looks at them.
import { smallSheet } from "../../demo/sheet/small-sheet.ts";
import { sha256 } from "../../src/crypto/node.ts";
import { outcomes } from "../../src/core/facts/craft.ts";
import type { CraftState } from "../../src/core/facts/craft.ts";
import { hour_ms, minute_ms, msToInstant } from "../../src/core/facts/instant.ts";
import type { Situation } from "../../src/core/facts/situation.ts";
import type { Trust } from "../../src/ledger/acceptance.ts";
import { Story, assessRecorded, dawn_ms, good } from "../../src/ledger/craft/arbitrary-story.ts";
import { craftLedger } from "../../src/ledger/craft/craft-ledger.ts";
import type { DraftMark } from "../../src/ledger/craft/recorder.ts";
import { hashText } from "../../src/ledger/crypto.ts";
import type { Signer } from "../../src/ledger/crypto.ts";
import type { StoredEntry } from "../../src/ledger/entry.ts";
import { isRefusal } from "../../src/ledger/entry-type.ts";
import { stateHash } from "../../src/ledger/fold.ts";
import type { Folded } from "../../src/ledger/fold.ts";
import { LedgerFold } from "../../src/ledger/ledger-fold.ts";
import { reopenEntry } from "../../src/ledger/open.ts";
import type { ReceiptBody } from "../../src/ledger/system-entries.ts";
import { writeNext } from "../../src/ledger/write-next.ts";
import type { MemoryDisk } from "../../src/store/memory.ts";
import type { Judge } from "../../src/sync/server-side.ts";
import { World } from "../sync/world.ts";
import type { Fault, Payload } from "../sync/world.ts";
import { blankSigner } from "./world.ts";

const ledger = "craft:fleet";
const walk = "walk-0001";
export const people = ["p-one", "p-two", "p-three"] as const;
const everyRole = ["pilot", "crewMember", "engineer", "airworthiness", "administrator"];
/** A server that was restored goes on with the next key. */
const serverKeys = Array.from({ length: 40 }, (_, number) => blankSigner(`server ${number}`));
const signers: readonly Signer[] = people.map(blankSigner);

const trust: Trust = {
  root: blankSigner("root").key,
  certificates: Object.fromEntries(
    [
      ...signers.map(({ key }, index) => [key, people[index]!, everyRole] as const),
      ...serverKeys.map(({ key }) => [key, "server", ["server"]] as const),
    ].map(([key, person, roles]) => [
      key,
      [{ entry: hashText(sha256, key), key, person, roles, from_ms: dawn_ms - 24 * hour_ms, until_ms: null }],
    ]),
  ),
  revocations: {},
};

/** One thing that a person does: always one entry, or nothing where it makes no sense on what the device shows. */
export type Deed =
  | { readonly kind: "raise"; readonly finding: number }
  | { readonly kind: "judge"; readonly finding: number; readonly outcome: number }
  | { readonly kind: "closure"; readonly closure: number; readonly state: "open" | "closed" }
  | { readonly kind: "custody"; readonly custody: "crew" | "maintenance" }
  | { readonly kind: "event" }
  /** An entry of a newer program. */
  | { readonly kind: "strange" }
  | { readonly kind: "reading"; readonly value: number }
  | { readonly kind: "flight"; readonly from_min: number }
  | { readonly kind: "mark"; readonly item: number; readonly mark: "good" | "finding" | "notReached" };

/**
 * A deed, on which device, and what the world does after it: which devices have no network, for how many ticks it does to the
 * others what it likes, and whether these then exchange until they know the same. Where they always do, what each device
 * knows at each line follows from the script alone.
 */
export type ScriptLine = {
  readonly device: number;
  readonly deed: Deed;
  readonly away: readonly boolean[];
  readonly ticks: number;
  readonly settles: boolean;
};

const closures = ["cowl", "pitotCover"] as const;
const fullItems = smallSheet.items.filter(({ walks }) => walks.includes("full"));

type Told = { readonly type: string; readonly body: unknown };

/** A story whose words are taken down and not folded: they are written by a device. */
class Dictation extends Story {
  readonly told: Told[] = [];
  override tell(type: string, body: unknown, by?: string): string {
    // While the story opens itself, nothing is taken down.
    if ((this.told as Told[] | undefined) === undefined) return super.tell(type, body, by);
    this.told.push({ type, body });
    return "0".repeat(64);
  }
}

/** What a story tells by itself when it is begun: a craft that is ready but for its walk. */
function openingTold(): readonly Told[] {
  const told: Told[] = [];
  class Opening extends Story {
    override tell(type: string, body: unknown, by?: string): string {
      told.push({ type, body });
      return super.tell(type, body, by);
    }
  }
  new Opening(smallSheet, { floats: true, boards: false }).begin(walk);
  return told;
}

function perform(story: Dictation, deed: Deed, writer: string): void {
  const finding = "finding" in deed ? `finding-${deed.finding}` : "";
  const facts = story.state.findings[finding];
  const at = story.at;
  switch (deed.kind) {
    case "raise":
      if (facts === undefined)
        story.tell("finding.raised", {
          finding,
          kind: "leak",
          stop: "left",
          item: null,
          walk: null,
          measure: null,
          words: "wet",
          at,
        });
      break;
    case "judge":
      if (facts !== undefined)
        story.tell("finding.judged", {
          finding,
          outcome: outcomes[deed.outcome]!,
          role: "engineer",
          words: "",
          deferral: null,
          at,
          replaces: facts.judgements.map(({ entry }) => entry),
        });
      break;
    case "closure": {
      const closure = closures[deed.closure]!;
      const replaces = (story.state.closures[closure] ?? []).map(({ entry }) => entry);
      story.tell("closure.set", { closure, state: deed.state, replaces, at });
      break;
    }
    case "custody":
      story.hand(deed.custody, "said", writer);
      break;
    case "event":
      story.tell("event.noted", { event: "lightning", words: "", at });
      break;
    case "strange":
      story.tell("gadget.set", { gadget: "unheard of" });
      break;
    case "reading": {
      const { value } = deed;
      const reading = { gauge: "oil", value, unit: "L", typed: String(value), conditions: {}, hours_h: null };
      story.tell("reading.taken", { ...reading, at });
      break;
    }
    case "flight":
      story.tell("flight.logged", flight(story.now_ms, deed.from_min, writer));
      break;
    case "mark": {
      const item = fullItems[deed.item % fullItems.length]!;
      const marks: Readonly<Record<typeof deed.mark, DraftMark>> = {
        good,
        finding: { mark: "finding", why: null, finding: `finding-of-${item.id}` },
        notReached: { mark: "notReached", why: "in the way", finding: null },
      };
      if (story.state.walks[walk] !== undefined) story.page(walk, item.stop, { [item.id]: marks[deed.mark] });
      break;
    }
    default:
      throw new Error(`no such deed: ${JSON.stringify(deed satisfies never)}`);
  }
}

function flight(now_ms: number, from_min: number, by: string): unknown {
  const [off_ms, on_ms] = [now_ms - from_min * minute_ms, now_ms - minute_ms];
  return {
    flight: `flight-${by}-${now_ms}`,
    offAt: msToInstant(off_ms),
    onAt: msToInstant(on_ms),
    flight_h: (on_ms - off_ms) / hour_ms,
    landings: 1,
    hoistCycles: 0,
    starts: 1,
    nightLandings: 0,
    nvis: false,
    instrument_min: 0,
    operation: smallSheet.operations[0]!.id,
    crew: [by],
  };
}

/** The fold of a disk, grown as the disk grows. */
class DiskFolds {
  readonly #folds = new WeakMap<MemoryDisk, { readonly fold: LedgerFold<CraftState>; read: number }>();

  of(disk: MemoryDisk): LedgerFold<CraftState> {
    const held = this.#folds.get(disk) ?? { fold: new LedgerFold(craftLedger, [], trust), read: 0 };
    this.#folds.set(disk, held);
    held.fold.add(disk.entries.slice(held.read).map(({ entry }) => reopenEntry(entry)));
    held.read = disk.entries.length;
    return held.fold;
  }
}

type Seen = Pick<Folded<CraftState>, "state" | "aside">;
/** A mistake between what was folded and its assessment. */
export type Broken = (seen: Seen) => Seen;

export class Fleet {
  readonly world: World;
  readonly #folds = new DiskFolds();
  readonly #story = new Dictation(smallSheet, { floats: true, boards: false });
  /** Taken by the next write of a device. */
  #next: Told | null = null;
  #written = 0;
  now_ms = dawn_ms;
  /** The deeds that made sense where they were done, and were written. */
  readonly done: string[] = [];
  #serverKey = 0;

  readonly #broken: Broken;

  constructor(seed: number, allowed: readonly Fault[], broken: Broken = (seen) => seen) {
    this.#broken = broken;
    const payload: Payload = {
      write: (device, disk) => this.#write(device, disk),
      judgeOn: (disk, restored) => this.#judgeOn(disk, restored),
    };
    this.world = new World({ seed, allowed, devices: people.length, payload, writes: 0 });
  }

  /** The craft is opened on the first device, everybody hears of it, and its walk is begun and gone through. */
  async start(): Promise<void> {
    await this.world.start();
    for (const told of openingTold()) await this.#tell(0, told);
    for (const [item] of fullItems.entries()) await this.#do(0, { kind: "mark", item, mark: "good" });
    await this.world.heal();
  }

  async run(lines: readonly ScriptLine[]): Promise<void> {
    for (const { device, deed, ticks, away, settles } of lines) {
      this.now_ms += minute_ms;
      await this.#do(device, deed);
      for (const each of this.world.devices) each.isAway = away[each.number] ?? false;
      for (let tick = 0; tick < ticks; tick += 1) await this.world.tick();
      if (settles) await this.world.heal((number) => away[number] !== true);
    }
  }

  /** One deed more, at the instant of the last. */
  async add(device: number, deed: Deed): Promise<void> {
    await this.#do(device, deed);
  }

  /** The first device ends the walk, and everybody hears of it. */
  async finish(at_ms: number): Promise<void> {
    this.now_ms = at_ms;
    const { state } = this.folded(0);
    const told = { type: "walk.finished", body: { walk, at: msToInstant(at_ms) } };
    if (makesSense(state, told, at_ms)) await this.#tell(0, told);
    await this.world.heal();
  }

  folded(device: number): Folded<CraftState> {
    return this.#folds.of(this.world.devices[device]!.disk).folded;
  }

  /** One hash where all devices and the server fold to the same. */
  hashes(): ReadonlySet<string> {
    const disks = [...this.world.devices.map(({ disk }) => disk), this.world.serverDisk];
    return new Set(disks.map((disk) => stateHash(this.#folds.of(disk).folded, sha256)));
  }

  /** Reasons of what a device holds, as known at an instant. */
  reasons(device: number, situation: Situation): ReturnType<typeof assessRecorded> {
    const { state, aside } = this.#broken(this.folded(device));
    return assessRecorded(smallSheet, state, {
      ...situation,
      record: { ...situation.record, aside },
    });
  }

  situation(now_ms: number): Situation {
    this.#story.now_ms = now_ms;
    return this.#story.situation();
  }

  async #do(device: number, deed: Deed): Promise<void> {
    const story = this.#story;
    const { state } = this.folded(device);
    story.state = state;
    story.now_ms = this.now_ms;
    story.told.length = 0;
    perform(story, deed, people[device]!);
    const [told] = story.told;
    // What its own reducer refuses, no screen would have offered.
    if (told === undefined || !makesSense(state, told, this.now_ms)) return;
    await this.#tell(device, told);
    this.done.push(`${device} ${JSON.stringify(deed)}`);
  }

  /** A person who is told that it was not saved says it again, once the device goes again. */
  async #tell(device: number, told: Told): Promise<void> {
    for (let time = 0; time < 100; time += 1) {
      this.#next = told;
      if ((await this.world.write(device)) !== null) return;
      await this.world.revive(device);
    }
    throw new Error("a disk that never takes anything");
  }

  async #write(device: number, disk: MemoryDisk): Promise<StoredEntry | null> {
    const told = this.#next;
    this.#next = null;
    if (told === null) return null;
    return this.#seal(this.#folds.of(disk), told, people[device]!, signers[device]!);
  }

  #seal(fold: LedgerFold<CraftState>, told: Told, by: string, signer: Signer): Promise<StoredEntry> {
    const salt = hashText(sha256, `${by} ${this.#written++}`).slice(0, 32);
    const next = { ledger, ...told, by, at_ms: this.now_ms, basis: {}, salt };
    return writeNext(fold, next, signer, sha256);
  }

  #judgeOn(disk: MemoryDisk, restored: boolean): Judge {
    if (restored) this.#serverKey += 1;
    const signer = serverKeys[this.#serverKey % serverKeys.length]!;
    return async (entries) => {
      if (entries.length === 0) return { verdicts: [], kept: [], receipts: [] };
      // Folded apart: what is judged here and then not written down must not be remembered.
      const held = [...disk.entries.map(({ entry }) => entry), ...entries].map(reopenEntry);
      const fold = new LedgerFold(craftLedger, held, trust);
      const receivedAt = msToInstant(this.now_ms);
      const lines = entries.map(({ id }) => ({ id, receivedAt, verdict: "accepted" as const, code: null }));
      const body: ReceiptBody = { entries: lines };
      const receipt = await this.#seal(fold, { type: "receipt", body }, "server", signer);
      return {
        verdicts: entries.map(({ id }) => ({ id, verdict: "accepted", code: null })),
        kept: entries,
        receipts: [receipt],
      };
    };
  }
}

function makesSense(state: CraftState, { type, body }: Told, at_ms: number): boolean {
  const kind = craftLedger.types.find((candidate) => candidate.type === type);
  const at = msToInstant(at_ms);
  const meta = { id: "0".repeat(64), ledger, type, key: "k", by: "p-one", at, at_ms, seq: 0, basis: {} };
  return kind === undefined || !isRefusal(kind.fold(state, body, meta));
}
