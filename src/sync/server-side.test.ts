import { describe, expect, test } from "vitest";
import type { StoredEntry } from "../ledger/entry.ts";
import { sampleEntries, sampleEntry } from "../store/contract.ts";
import { type MemoryDisk, MemoryStore, makeMemoryDisk } from "../store/memory.ts";
import { cursorFrom, cursorText } from "./cursor.ts";
import type { Answer, Call } from "./message.ts";
import { ServerSide } from "./server-side.ts";

let session = 0;

/** A server that accepts everything and writes one receipt per entry, each with a number of its own. */
async function start(
  disk: MemoryDisk = makeMemoryDisk(),
): Promise<{ store: MemoryStore; server: ServerSide }> {
  const store = new MemoryStore(disk);
  let receipt = session * 1_000;
  const server = await ServerSide.start({
    log: store,
    judge: async (entries) => ({
      verdicts: entries.map(({ id }) => ({ id, verdict: "accepted", code: null })),
      kept: entries,
      receipts: entries.map(() => sampleEntry("craft:receipts", 1_000_000 + receipt++)),
    }),
    chance: () => (++session).toString(16).padStart(8, "0"),
    now: () => "2031-04-01T06:40:00.000Z",
    onRestored: async () => {},
  });
  return { store, server };
}

function push(
  server: ServerSide,
  entries: readonly StoredEntry[],
  seen: string | null = null,
): Promise<Of<"push">> {
  return ask(server, { kind: "push", seen, entries });
}

function pull(server: ServerSide, cursor: string | null, limit = 100): Promise<Of<"pull">> {
  return ask(server, { kind: "pull", seen: null, cursor, ledger: null, limit });
}

type Of<Kind extends Answer["kind"]> = Answer & { kind: Kind };
async function ask<Kind extends Answer["kind"]>(
  server: ServerSide,
  call: Call & { kind: Kind },
): Promise<Of<Kind>> {
  return (await server.answer(call)) as Of<Kind>;
}

function copyOf(disk: MemoryDisk): MemoryDisk {
  return { ...disk, entries: [...disk.entries], byId: new Map(disk.byId), notes: new Map(disk.notes) };
}

describe("The server's half of the exchange", () => {
  test("judges an entry once: pushed again, also within one push, it is held and gets no second receipt", async () => {
    const { store, server } = await start();
    const entry = sampleEntry("craft:a", 1);
    expect((await push(server, [entry, entry])).verdicts).toEqual([
      { id: entry.id, verdict: "accepted", code: null },
    ]);
    expect((await push(server, [entry])).verdicts).toEqual([{ id: entry.id, verdict: "held", code: null }]);
    await Promise.all([push(server, [sampleEntry("craft:a", 2)]), push(server, [sampleEntry("craft:a", 2)])]);
    expect(await store.count()).toBe(4);
  });

  test("keeps entries and receipts of a push together or not at all", async () => {
    const disk = makeMemoryDisk();
    const { store } = await start(disk);
    const failing = await ServerSide.start({
      log: store,
      judge: async (entries) => ({
        verdicts: [],
        kept: entries,
        receipts: [{ ...sampleEntry("craft:a", 9), envelope: "{}" }],
      }),
      chance: () => "00000001",
      now: () => "2031-04-01T06:40:00.000Z",
      onRestored: async () => {},
    });
    await expect(push(failing, [sampleEntry("craft:a", 1)])).rejects.toThrow("without a ledger");
    expect(await store.count()).toBe(0);
    await expect(push(failing, [sampleEntry("craft:a", 1)])).rejects.toThrow("without a ledger");
  });

  test("hands out pages that neither skip nor repeat, with the cursor moving", async () => {
    const { server } = await start();
    await push(server, sampleEntries("craft:a", 0, 12));
    const ids: string[] = [];
    let cursor: string | null = null;
    let more = true;
    while (more) {
      const page: Of<"pull"> = await pull(server, cursor, 7);
      ids.push(...page.entries.map((e) => e.id));
      ({ cursor, more } = page);
    }
    expect(ids.length).toBe(24);
    expect(new Set(ids).size).toBe(24);
    const end = await pull(server, cursor, 7);
    expect([end.entries, end.more, end.cursor, end.restarted]).toEqual([[], false, cursor, false]);
  });

  test("tells by an offer what it lacks", async () => {
    const { server } = await start();
    const [one, two] = sampleEntries("craft:a", 0, 2);
    await push(server, [one!]);
    const answer = await ask(server, { kind: "offer", seen: null, ids: [two!.id, one!.id] });
    expect(answer.wanted).toEqual([two!.id]);
  });

  test("starts a page over for a cursor that it cannot read", async () => {
    const { server } = await start();
    await push(server, [sampleEntry("craft:a", 1)]);
    for (const cursor of ["nonsense", "1.5", "999999999.1.00000001", "1.999.zzzzzzzz"]) {
      const page = await pull(server, cursor);
      expect([page.entries.length, page.restarted, page.epoch]).toEqual([2, true, 1]);
    }
  });
});

describe("A server restored from a backup", () => {
  /** A server with something, its backup, something more, and the restored one. */
  async function restored(): Promise<{
    marks: { before: string; offer: string; cursor: string; push: string };
    server: ServerSide;
    disk: MemoryDisk;
  }> {
    const disk = makeMemoryDisk();
    const { server } = await start(disk);
    const before = (await push(server, [sampleEntry("craft:a", 1)])).mark;
    const backup = copyOf(disk);
    const { mark } = await push(server, [sampleEntry("craft:a", 2)]);
    const offer = (await ask(server, { kind: "offer", seen: null, ids: [sampleEntry("craft:a", 2).id] }))
      .mark;
    const { cursor } = await pull(server, null);
    return {
      marks: { before, offer, cursor, push: mark },
      server: (await start(backup)).server,
      disk: backup,
    };
  }

  test.each(["offer", "push"] as const)(
    "raises its epoch on the mark of an %s that it lost",
    async (which) => {
      const { marks, server } = await restored();
      expect((await ask(server, { kind: "offer", seen: marks[which], ids: [] })).epoch).toBe(2);
    },
  );

  test("raises its epoch on a cursor alone, from a device that never pushed", async () => {
    const { marks, server } = await restored();
    const page = await pull(server, marks.cursor);
    expect([page.epoch, page.restarted, page.entries.length]).toEqual([2, true, 2]);
  });

  test("does so also when as much was written since as had been lost", async () => {
    const { marks, server } = await restored();
    await push(server, [sampleEntry("craft:a", 3), sampleEntry("craft:a", 4)]);
    expect((await pull(server, marks.cursor)).epoch).toBe(2);
  });

  test("lets a mark from before the backup stand", async () => {
    const { marks, server } = await restored();
    await push(server, [sampleEntry("craft:a", 3)], marks.before);
    expect((await pull(server, marks.before)).epoch).toBe(1);
  });

  test("raises it once for many who ask at once, and keeps it across a start", async () => {
    const { marks, server, disk } = await restored();
    await Promise.all([1, 2, 3].map(() => pull(server, marks.cursor)));
    expect(server.epoch).toBe(2);
    expect((await start(disk)).server.epoch).toBe(2);
  });

  test("finds out a second restoration of the same backup, where the epoch's number comes again", async () => {
    const { marks, server, disk } = await restored();
    const backup = copyOf(disk);
    const second = (await ask(server, { kind: "offer", seen: marks.push, ids: [] })).mark;
    await push(server, [sampleEntry("craft:a", 5)], second);
    const { mark } = await push(server, [sampleEntry("craft:a", 6)], second);
    const again = (await start(backup)).server;
    expect((await pull(again, marks.cursor)).epoch).toBe(2);
    expect((await pull(again, mark)).epoch).toBe(3);
  });

  test("is not driven up by a mad epoch, and goes above a real one", async () => {
    const { server } = await start();
    expect((await pull(server, "5000000.1.00000001")).epoch).toBe(1);
    expect((await pull(server, "7.1.00000001")).epoch).toBe(8);
  });

  test("does not raise its epoch for a plain start, also with sessions in which nothing was written", async () => {
    const disk = makeMemoryDisk();
    const first = await start(disk);
    const { mark } = await push(first.server, [sampleEntry("craft:a", 1)]);
    for (let n = 0; n < 5; n++) await start(disk);
    const last = await start(disk);
    expect((await pull(last.server, mark)).epoch).toBe(1);
    await push(last.server, [sampleEntry("craft:a", 2)]);
    expect((await pull((await start(disk)).server, mark)).epoch).toBe(1);
    expect((JSON.parse(disk.notes.get("sync.server")!) as { sessions: unknown[] }).sessions.length).toBe(3);
  });
});

describe("A cursor", () => {
  test("is read back as it was written, and nothing else is read as one", () => {
    const sessions = [
      { name: "aaaaaaaa", from: 0 },
      { name: "bbbbbbbb", from: 10 },
    ];
    expect(cursorFrom(cursorText(3, 10, sessions))).toEqual({ epoch: 3, position: 10, session: "aaaaaaaa" });
    expect(cursorFrom(cursorText(3, 11, sessions))).toEqual({ epoch: 3, position: 11, session: "bbbbbbbb" });
    expect(cursorFrom(cursorText(3, 0, sessions))).toEqual({ epoch: 3, position: 0, session: "00000000" });
    for (const text of ["", "3.10", "3.10.aaaaaaaa.", "-3.10.aaaaaaaa", "3.1e3.aaaaaaaa", "3.10.AAAAAAAA"]) {
      expect(cursorFrom(text)).toBeNull();
    }
  });
});
