// What every store and every keeper of drafts must do: one list of cases as data, without a test framework and
// without Node, so that the same cases run under the unit tests (memory, SQLite) and inside a real browser (IndexedDB).
//
// A place is where entries stay when no store is open: a disk in memory, a file, a database of the browser. A case gets
// a fresh place and may open it several times. A case fails by throwing.
import type { Hash, LedgerId, StoredEntry } from "../ledger/entry.ts";
import type { DeviceStore } from "./drafts.ts";
import { mostRowsPerPage, type OperationHook, type Store } from "./store.ts";

export type Place<T> = {
  /** Opens the place; two opened at once are two connections. */
  open(onOperation?: OperationHook): Promise<T>;
  /** Removes the place with all that is in it; everything opened on it is closed by then. */
  discard(): Promise<void>;
};

export type ContractCase<T> = {
  readonly title: string;
  run(makePlace: () => Promise<Place<T>>): Promise<void>;
};

export const storeContract: readonly ContractCase<Store>[] = [
  storeCase("gives back what was appended, byte for byte, in the order given", async (place) => {
    const store = await place.open();
    const entries = [sampleEntry("craft:a", 1), sampleEntry("craft:b", 2), sampleEntry("craft:a", 3)];
    same(await store.append(entries), { added: entries.map((e) => e.id), held: [] }, "answer of append");
    same(
      (await store.since(0, 10)).rows.map((r) => r.entry),
      entries,
      "entries since 0",
    );
    same(await store.get(entries[1]!.id), entries[1], "entry by id");
    same(await store.get(idOf(99)), null, "an id that is not held");
    same(await store.count(), 3, "count");
    await store.close();
  }),

  storeCase("counts a ledger's entries up to a position", async (place) => {
    const store = await place.open();
    await store.append([sampleEntry("craft:a", 1), sampleEntry("craft:b", 2), sampleEntry("craft:a", 3)]);
    const positions = (await store.since(0, 10)).rows.map(({ position }) => position);
    const counts = await Promise.all([0, ...positions].map((position) => store.countOf("craft:a", position)));
    same(counts, [0, 1, 1, 2], "entries of craft:a up to each position");
    same(await store.countOf("craft:c", 1_000), 0, "of a ledger that is not held");
    await store.close();
  }),

  storeCase("throws a snapshot away with the body of an entry that stands folded in it", async (place) => {
    const store = await place.open();
    const [one, two] = [sampleEntry("craft:a", 1), sampleEntry("craft:b", 2)];
    await store.append([one, two]);
    for (const ledger of ["craft:a", "craft:b"]) await store.writeSnapshot(ledger, `of ${ledger}`);
    await store.erase([one.id]);
    same(await store.readSnapshot("craft:a"), null, "the snapshot of the erased entry's ledger");
    same(await store.readSnapshot("craft:b"), "of craft:b", "the snapshot of another ledger");
    await store.writeSnapshot("craft:a", "made anew");
    await store.erase([one.id]);
    same(await store.readSnapshot("craft:a"), "made anew", "after there was nothing left to erase");
    await store.close();
  }),

  storeCase("keeps a snapshot for each ledger, replaces it and throws it away", async (place) => {
    const first = await place.open();
    same(await first.readSnapshot("craft:a"), null, "before there is one");
    const long = "0123456789abcdef".repeat(200_000);
    await first.writeSnapshot("craft:a", "one");
    await first.writeSnapshot("craft:a", long);
    await first.writeSnapshot("craft:b", "other");
    await first.close();
    const again = await place.open();
    same((await again.readSnapshot("craft:a")) === long, true, "the later one, whole");
    await again.writeSnapshot("craft:a", null);
    await again.writeSnapshot("craft:c", null);
    same(
      await Promise.all(["craft:a", "craft:b"].map((ledger) => again.readSnapshot(ledger))),
      [null, "other"],
      "after one was thrown away",
    );
    same(await again.count(), 0, "a snapshot is no entry");
    await again.close();
  }),

  storeCase(
    "keeps the earlier snapshot whole when writing one is interrupted at the Nth operation",
    async (place) => {
      const preparing = await place.open();
      await preparing.writeSnapshot("craft:a", "earlier");
      await preparing.close();
      let interrupted = 0;
      for (let failing = 1; failing <= 12; failing++) {
        const store = await place.open(failNth({ n: 0 }, failing, true)).catch(() => null);
        const text = `later ${failing} `.repeat(10_000);
        const before = store === null ? null : await store.readSnapshot("craft:a").catch(() => null);
        const isWritten = store !== null && (await succeeds(store.writeSnapshot("craft:a", text)));
        await store?.close();
        const again = await place.open();
        const found = await again.readSnapshot("craft:a");
        if (isWritten) same(found === text, true, `operation ${failing} failing, written`);
        else {
          interrupted += 1;
          same(
            found !== null && found !== text,
            true,
            `operation ${failing} failing: there is an earlier one`,
          );
          if (before !== null) same(found === before, true, `operation ${failing} failing: the earlier one`);
        }
        await again.close();
      }
      must(interrupted > 0, "some writing was interrupted");
    },
  ),

  storeCase("starts empty", async (place) => {
    const store = await place.open();
    same(await store.count(), 0, "count");
    same(await store.head(), null, "head");
    same(await store.ledgers(), [], "ledgers");
    same(await store.since(0, 5), { rows: [], next: 0, more: false }, "page");
    same(await store.append([]), { added: [], held: [] }, "append of nothing");
    await store.close();
  }),

  storeCase("leaves an id that it holds alone, in one call and across calls", async (place) => {
    const store = await place.open();
    const [one, two] = [sampleEntry("craft:a", 1), sampleEntry("craft:a", 2)];
    await store.append([one]);
    const impostor = { ...one, body: '{"other":true}' };
    same(await store.append([impostor, two, two]), { added: [two.id], held: [one.id, two.id] }, "answer");
    same(await store.get(one.id), one, "the entry first held");
    same(await store.count(), 2, "count");
    await store.close();
  }),

  storeCase("hands out growing positions and pages that neither skip nor repeat", async (place) => {
    const store = await place.open();
    const entries = sampleEntries("craft:a", 0, 25);
    await store.append(entries.slice(0, 12));
    await store.append(entries.slice(12));
    const seen: Hash[] = [];
    let position = 0;
    for (const [size, more] of [
      [10, true],
      [10, true],
      [10, false],
    ] as const) {
      const page = await store.since(position, 10);
      must(page.more === more, `more after ${seen.length} rows: found ${page.more}, wanted ${more}`);
      must(page.rows.length <= size, "a page is not longer than its limit");
      for (const row of page.rows) {
        must(row.position > position, "positions grow");
        position = row.position;
        seen.push(row.entry.id);
      }
      same(page.next, position, "next is the last position of the page");
    }
    same(
      seen,
      entries.map((e) => e.id),
      "all pages together",
    );
    same(await store.since(position, 10), { rows: [], next: position, more: false }, "page at the end");
    const exact = await store.since(0, 25);
    same([exact.rows.length, exact.more], [25, false], "a page that fits exactly says that there is no more");
    same(await store.head(), { position, id: entries.at(-1)!.id }, "head");
    await store.close();
  }),

  storeCase("filters by ledger and keeps the positions of the whole", async (place) => {
    const store = await place.open();
    const entries = [1, 2, 3, 4, 5, 6].map((n) => sampleEntry(n % 2 === 0 ? "craft:even" : "craft:odd", n));
    await store.append(entries);
    const first = await store.since(0, 2, "craft:even");
    same(
      first.rows.map((r) => r.entry.id),
      [idOf(2), idOf(4)],
      "first page of one ledger",
    );
    same(first.more, true, "more");
    const second = await store.since(first.next, 2, "craft:even");
    same(
      second.rows.map((r) => r.entry.id),
      [idOf(6)],
      "second page of one ledger",
    );
    same(second.more, false, "no more");
    const all = await store.since(0, 10);
    same(second.rows[0]!.position, all.rows[5]!.position, "position with and without the filter");
    same(await store.since(0, 2, "craft:none"), { rows: [], next: 0, more: false }, "a ledger not held");
    same(
      await store.ofLedger("craft:odd"),
      entries.filter((_, i) => i % 2 === 0),
      "all of one ledger",
    );
    same(await store.ledgers(), ["craft:even", "craft:odd"], "ledgers");
    await store.close();
  }),

  storeCase("refuses a position or limit that makes no sense", async (place) => {
    const store = await place.open();
    await store.append([sampleEntry("craft:a", 1)]);
    for (const [position, limit] of [
      [-1, 1],
      [0.5, 1],
      [0, 0],
      [0, Number.NaN],
      [0, mostRowsPerPage + 1],
    ] as const) {
      await mustReject(() => store.since(position, limit), `since(${position}, ${limit})`);
    }
    await store.close();
  }),

  storeCase("appends all of a call or nothing of it", async (place) => {
    const store = await place.open();
    const broken = { ...sampleEntry("craft:a", 2), envelope: "{}" };
    await mustReject(() => store.append([sampleEntry("craft:a", 1), broken]), "an entry without a ledger");
    same(await store.count(), 0, "count after the refusal");
    await store.append([sampleEntry("craft:a", 1)]);
    same(await store.count(), 1, "count afterwards");
    await store.close();
  }),

  storeCase("says which ids it lacks", async (place) => {
    const store = await place.open();
    await store.append([sampleEntry("craft:a", 1), sampleEntry("craft:a", 3)]);
    same(await store.lacking([idOf(4), idOf(3), idOf(2), idOf(1)]), [idOf(4), idOf(2)], "lacking");
    same(await store.lacking([]), [], "lacking of nothing");
    await store.close();
  }),

  storeCase(
    "lets two writers append at once: every entry once, each writer's own order kept",
    async (place) => {
      const [one, two] = [await place.open(), await place.open()];
      const shared = sampleEntry("craft:a", 999);
      const writes: Promise<unknown>[] = [];
      for (let n = 0; n < 20; n++) {
        writes.push(one.append([sampleEntry("craft:a", 100 + n), shared]));
        writes.push(two.append([shared, sampleEntry("craft:b", 200 + n)]));
      }
      await Promise.all(writes);
      for (const store of [one, two]) {
        const { rows } = await store.since(0, 100);
        same(rows.length, 41, "entries in all");
        const positions = rows.map((r) => r.position);
        same(new Set(positions).size, 41, "distinct positions");
        for (const base of [100, 200]) {
          const ids = sampleEntries("craft:a", base, 20).map((e) => e.id);
          same(
            rows.map((r) => r.entry.id).filter((id) => ids.includes(id)),
            ids,
            `order of writer ${base}`,
          );
        }
      }
      await one.close();
      await two.close();
    },
  ),

  storeCase("never lets a reader skip what is committed later", async (place) => {
    const [writer, reader] = [await place.open(), await place.open()];
    const seen: Hash[] = [];
    let position = 0;
    const read = async (): Promise<void> => {
      const page = await reader.since(position, 7);
      seen.push(...page.rows.map((r) => r.entry.id));
      position = page.next;
    };
    const entries = sampleEntries("craft:a", 0, 60);
    for (let at = 0; at < entries.length; at += 3) {
      const write = writer.append(entries.slice(at, at + 3));
      await Promise.all([write, read()]);
    }
    for (let round = 0; round < 10; round++) await read();
    same(
      seen,
      entries.map((e) => e.id),
      "what the reader saw",
    );
    await writer.close();
    await reader.close();
  }),

  storeCase("keeps notes apart from entries, replaces and removes them", async (place) => {
    const store = await place.open();
    same(await store.readNote("epoch"), null, "a note never written");
    await store.writeNote("epoch", "1");
    await store.writeNote("other", "");
    await store.writeNote("epoch", "2");
    same(await store.readNote("epoch"), "2", "a note replaced");
    same(await store.readNote("other"), "", "an empty note is not a missing one");
    await store.writeNote("epoch", null);
    await store.writeNote("never", null);
    same(await store.readNote("epoch"), null, "a note removed");
    same(await store.count(), 0, "notes are no entries");
    await store.close();
  }),

  storeCase("keeps a big entry and all of Unicode", async (place) => {
    const store = await place.open();
    const text = "å∂ß𝕎🚁\u0001\u2028\ufeff".repeat(1) + "x".repeat(4_000_000);
    const big = { ...sampleEntry("craft:a", 1), body: JSON.stringify({ text }) };
    await store.append([big, sampleEntry("craft:a", 2)]);
    const kept = await store.get(big.id);
    must(kept?.body === big.body, "the big body is the same");
    await store.close();
  }),

  storeCase("erases a body for good and keeps the envelope", async (place) => {
    const store = await place.open();
    const [one, two] = [sampleEntry("craft:a", 1), sampleEntry("craft:a", 2)];
    await store.append([one, two]);
    same(await store.erase([one.id, idOf(9), one.id]), [one.id], "answer of erase");
    const bare = { ...one, salt: null, body: null };
    same(await store.get(one.id), bare, "the erased entry");
    same(await store.erase([one.id]), [], "erased again");
    same(await store.append([one]), { added: [], held: [one.id] }, "append after the erasure");
    same(
      (await store.since(0, 5)).rows.map((r) => r.entry),
      [bare, two],
      "order after the erasure",
    );
    await store.append([{ ...sampleEntry("craft:a", 3), salt: null, body: null }]);
    same((await store.get(idOf(3)))?.body, null, "an entry that arrives without its body");
    await store.close();
  }),

  storeCase("keeps everything when closed and opened again", async (place) => {
    const first = await place.open();
    const entries = sampleEntries("craft:a", 0, 30);
    await first.append(entries.slice(0, 20));
    await first.writeNote("cursor", "abc");
    await first.erase([idOf(3)]);
    await first.close();
    const second = await place.open();
    same(await second.count(), 20, "count");
    same(await second.readNote("cursor"), "abc", "note");
    same((await second.get(idOf(3)))?.body, null, "the erasure");
    const before = await second.head();
    await second.append(entries.slice(20));
    const { rows } = await second.since(0, 100);
    same(
      rows.map((r) => r.entry.id),
      entries.map((e) => e.id),
      "ids and order",
    );
    must(rows[20]!.position > before!.position, "positions go on growing");
    await second.close();
  }),

  storeCase("refuses to be used after it was closed", async (place) => {
    const store = await place.open();
    await store.close();
    await store.close();
    await mustReject(() => store.append([sampleEntry("craft:a", 1)]), "append");
    await mustReject(() => store.since(0, 1), "since");
    await mustReject(() => store.readNote("n"), "readNote");
  }),

  ...(["only that one", "and all after it"] as const).map((extent) =>
    storeCase(`loses nothing acknowledged when the Nth operation fails, ${extent}`, (place) =>
      failEveryOperation(place, extent === "only that one"),
    ),
  ),
];

export const draftContract: readonly ContractCase<DeviceStore>[] = [
  draftCase("keeps, replaces and removes drafts", async (place) => {
    const drafts = await place.open();
    same(await drafts.draft("walk"), null, "a draft never put");
    await drafts.putDraft("walk", '{"marks":1}');
    await drafts.putDraft("walk", '{"marks":2}');
    await drafts.putDraft("walkabout", "");
    await drafts.putDraft("call", "{}");
    same(await drafts.draft("walk"), '{"marks":2}', "a draft replaced");
    const names = async (prefix?: string): Promise<readonly string[]> =>
      (await drafts.drafts(prefix)).map((d) => d.name);
    same(await names(), ["call", "walk", "walkabout"], "all names");
    same(await names("walk"), ["walk", "walkabout"], "names by prefix");
    await drafts.deleteDraft("walk");
    await drafts.deleteDraft("never");
    same(await names(), ["call", "walkabout"], "names after one was removed");
    await drafts.close();
  }),

  draftCase("keeps the order in which taps were made, also unawaited", async (place) => {
    const drafts = await place.open();
    await Promise.all(Array.from({ length: 50 }, (_, tap) => drafts.putDraft("walk", String(tap))));
    same(await drafts.draft("walk"), "49", "the last tap");
    await drafts.close();
  }),

  draftCase("keeps everything when closed and opened again", async (place) => {
    const first = await place.open();
    await first.putDraft("walk", "durable");
    await first.close();
    const second = await place.open();
    same(await second.draft("walk"), "durable", "draft");
    await second.close();
    await mustReject(() => second.putDraft("walk", "late"), "put after close");
  }),

  draftCase("never loses an acknowledged tap when the Nth operation fails", async (place) => {
    for (let failing = 1; failing <= 30; failing++) {
      const counter = { n: 0 };
      const drafts = await place.open(failNth(counter, failing, true)).catch(() => null);
      let acknowledged: string | null = null;
      for (let tap = 0; drafts !== null && tap < 8; tap++) {
        const text = `${failing}.${tap}`;
        await drafts.putDraft("walk", text).then(
          () => (acknowledged = text),
          () => {},
        );
      }
      await drafts?.close();
      const again = await place.open();
      if (acknowledged !== null)
        same(await again.draft("walk"), acknowledged, `operation ${failing} failing`);
      await again.close();
    }
  }),

  draftCase("changes a draft as it stands, whoever else changes it at the same time", async (place) => {
    const [one, two] = [await place.open(), await place.open()];
    same(await one.changeDraft("walk", (text) => `${text}x`), null, "a draft that is not there");
    same(await one.draft("walk"), null, "what a change made of nothing");
    await one.putDraft("walk", "");
    const add = (mark: string) => (text: string) => text + mark;
    const taps = Array.from({ length: 40 }, (_, tap) =>
      (tap % 2 === 0 ? one : two).changeDraft("walk", add(tap % 2 === 0 ? "a" : "b")),
    );
    const answers = await Promise.all(taps);
    const text = (await two.draft("walk")) ?? "";
    same(text.split("").toSorted().join(""), "a".repeat(20) + "b".repeat(20), "marks of both windows");
    same(answers.filter((answer) => answer === text).length, 1, "answers that hold all of them");
    await Promise.all([one.close(), two.close()]);
  }),

  draftCase("seals nothing from a draft that has changed meanwhile", async (place) => {
    const store = await place.open();
    const entries = sampleEntries("craft:a", 500, 2);
    await store.putDraft("walk", "one tap");
    await store.changeDraft("walk", () => "two taps");
    same(await store.sealDraft("walk", "one tap", entries), null, "sealing an older draft");
    same(await store.sealDraft("fly", "", entries), null, "sealing a draft that is not there");
    same([await store.draft("walk"), await store.count()], ["two taps", 0], "draft and entries left alone");
    same(
      (await store.sealDraft("walk", "two taps", entries))?.added.length,
      2,
      "entries of the draft as it is",
    );
    same(await store.draft("walk"), null, "draft once sealed");
    await store.close();
  }),

  draftCase("seals a draft into entries in one step, whichever operation fails", async (place) => {
    for (let failing = 1; failing <= 12; failing++) {
      const entries = sampleEntries("craft:a", failing * 10, 2);
      const preparing = await place.open();
      await preparing.putDraft("walk", String(failing));
      await preparing.close();
      const store = await place.open(failNth({ n: 0 }, failing, true)).catch(() => null);
      const sealed = store !== null && (await succeeds(store.sealDraft("walk", String(failing), entries)));
      await store?.close();
      const again = await place.open();
      const lacking = (await again.lacking(entries.map((e) => e.id))).length;
      const draft = await again.draft("walk");
      if (sealed) same([lacking, draft], [0, null], `operation ${failing} failing, sealed`);
      else same([lacking, draft], [2, String(failing)], `operation ${failing} failing, not sealed`);
      await again.close();
    }
  }),
];

/** Runs cases one after another; one line of result each. For runners that are not a test framework. */
export async function runContract<T>(
  cases: readonly ContractCase<T>[],
  makePlace: () => Promise<Place<T>>,
): Promise<readonly { readonly title: string; readonly error: string | null }[]> {
  const results: { title: string; error: string | null }[] = [];
  for (const { title, run } of cases) {
    const error = await run(makePlace).then(
      () => null,
      (reason: unknown) => (reason instanceof Error ? `${reason.message}\n${reason.stack}` : String(reason)),
    );
    results.push({ title, error });
  }
  return results;
}

/** An entry in form only, neither hashed nor signed: a store does not judge. */
export function sampleEntry(ledger: LedgerId, n: number): StoredEntry {
  const envelope = JSON.stringify({ after: [], at: "2031-04-01T06:40:00.000Z", ledger, seq: n, v: 1 });
  const salt = n.toString(16).padStart(32, "5");
  return { id: idOf(n), envelope, sig: "ab".repeat(64), salt, body: JSON.stringify({ n }) };
}

export function sampleEntries(ledger: LedgerId, from: number, count: number): readonly StoredEntry[] {
  return Array.from({ length: count }, (_, i) => sampleEntry(ledger, from + i));
}

/** Ids whose text order is not their number's order, so that a store that sorts by id is caught. */
function idOf(n: number): Hash {
  return ((n * 2_654_435_761) % 4_294_967_296).toString(16).padStart(8, "0").padEnd(64, n.toString(16));
}

/**
 * For N = 1, 2, … the Nth operation fails while a little work is done, until N is beyond the last operation. After
 * each, the place opens and holds every acknowledged entry, note and erasure, and no half of a refused call.
 */
async function failEveryOperation(place: Place<Store>, once: boolean): Promise<void> {
  for (let failing = 1; ; failing++) {
    must(failing < 500, "the work comes to an end");
    const counter = { n: 0 };
    const call = (k: number): readonly StoredEntry[] => sampleEntries("craft:a", failing * 100 + k * 10, 3);
    const acknowledged: number[] = [];
    let note: string | null = null;
    let erased = false;
    const store = await place.open(failNth(counter, failing, once)).catch(() => null);
    if (store !== null) {
      for (let k = 0; k < 4; k++) {
        if (await succeeds(store.append(call(k)))) acknowledged.push(k);
        if (await succeeds(store.writeNote("note", `${failing}.${k}`))) note = `${failing}.${k}`;
      }
      if (acknowledged.includes(0)) erased = await succeeds(store.erase([call(0)[1]!.id]));
      await store.close().catch(() => {});
    }
    const again = await place.open();
    for (let k = 0; k < 4; k++) {
      const kept = call(k).length - (await again.lacking(call(k).map((e) => e.id))).length;
      const wanted = acknowledged.includes(k) ? 3 : 0;
      same(kept, wanted, `operation ${failing} failing: entries kept of call ${k}`);
    }
    if (note !== null) same(await again.readNote("note"), note, `operation ${failing} failing: note`);
    if (erased) same((await again.get(call(0)[1]!.id))?.body, null, `operation ${failing} failing: erasure`);
    await again.close();
    if (counter.n < failing) {
      must(failing > 20, `operations were counted and made to fail: found ${failing - 1}`);
      return;
    }
  }
}

function failNth(counter: { n: number }, failing: number, once: boolean): OperationHook {
  return (operation) => {
    counter.n++;
    if (counter.n === failing || (!once && counter.n > failing))
      throw new Error(`planned failure of operation ${counter.n}: ${operation}`);
  };
}

async function succeeds(work: Promise<unknown>): Promise<boolean> {
  return work.then(
    () => true,
    () => false,
  );
}

function storeCase(title: string, body: (place: Place<Store>) => Promise<void>): ContractCase<Store> {
  return inPlace(title, body);
}

function draftCase(
  title: string,
  body: (place: Place<DeviceStore>) => Promise<void>,
): ContractCase<DeviceStore> {
  return inPlace(title, body);
}

function inPlace<T>(title: string, body: (place: Place<T>) => Promise<void>): ContractCase<T> {
  return {
    title,
    async run(makePlace) {
      const place = await makePlace();
      try {
        await body(place);
      } finally {
        await place.discard();
      }
    },
  };
}

export function must(condition: boolean, text: string): void {
  if (!condition) throw new Error(`not so: ${text}`);
}

/** Compares by JSON text with keys in order, so that `null`, `undefined` and a missing key stay apart. */
export function same(found: unknown, wanted: unknown, what: string): void {
  const [foundText, wantedText] = [orderedJson(found), orderedJson(wanted)];
  if (foundText !== wantedText)
    throw new Error(`${what}: found ${foundText.slice(0, 2_000)}, wanted ${wantedText.slice(0, 2_000)}`);
}

function orderedJson(value: unknown): string {
  if (value === undefined) return "undefined";
  if (Array.isArray(value)) return `[${value.map(orderedJson).join(",")}]`;
  if (value === null || typeof value !== "object") return JSON.stringify(value);
  const parts = Object.entries(value)
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([key, part]) => `${JSON.stringify(key)}:${orderedJson(part)}`);
  return `{${parts.join(",")}}`;
}

export async function mustReject(work: () => Promise<unknown>, what: string): Promise<unknown> {
  try {
    await work();
  } catch (error) {
    return error;
  }
  throw new Error(`not refused: ${what}`);
}
