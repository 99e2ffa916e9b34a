// Everything that the routes work on, opened with care and closed again: record, directory, keys, sheets, exchange.
import { randomBytes } from "node:crypto";
import { existsSync, mkdirSync } from "node:fs";
import { join } from "node:path";
import { msToInstant } from "../core/facts/instant.ts";
import { ServerSide, type ServerLog } from "../sync/server-side.ts";
import { rootNote } from "../store/store.ts";
import { PhotoShelf } from "../store/photo-shelf.ts";
import { SqliteStore } from "../store/sqlite.ts";
import { Directory } from "./directory.ts";
import { ErasureList } from "./erasure-list.ts";
import { HighWater } from "./high-water.ts";
import { judgeFrom } from "./judge.ts";
import { FileKeyring, type Keyring } from "./keyring.ts";
import { usualPinCost } from "./pin.ts";
import { OperatorRecord } from "./record.ts";
import type { Mode, Settings } from "./settings.ts";
import { SheetShelf } from "./sheet-shelf.ts";
import { StartError } from "./start-error.ts";

export type OperatorServer = {
  readonly mode: Mode;
  readonly folder: string;
  readonly now_ms: () => number;
  readonly record: OperatorRecord;
  readonly directory: Directory;
  readonly keyring: Keyring;
  readonly sheets: SheetShelf;
  readonly photos: PhotoShelf;
  readonly exchange: ServerSide;
  close(): Promise<void>;
};

const modeNote = "server.mode";

/** Opens the folder of a mode, or makes it. Throws a StartError or StoreError that names the file and the next step. */
export async function openOperatorServer(
  { mode, folder, demoSpan = "fortnight" }: Pick<Settings, "mode" | "folder"> & Partial<Settings>,
  now_ms: () => number,
  { pinCost = usualPinCost } = {},
): Promise<OperatorServer> {
  const [database, keys] = [join(folder, "preen.db"), join(folder, "keys.json")];
  makeFolder(folder);
  if (!existsSync(database) && existsSync(keys)) {
    throw new StartError(
      `${database}: is missing, although this folder has been in use. Put a backup in its place; to begin anew, name ` +
        "an empty folder with PREEN_DATA.",
    );
  }
  const store = new SqliteStore(database, { sole: true });
  let directory: Directory | null = null;
  try {
    await assertMode(store, mode, folder);
    directory = new Directory(join(folder, "directory.db"), pinCost);
    const demo = await import("./seed-demo.ts");
    const keyring = mode === "demo" ? demo.demoKeyring() : new FileKeyring(keys);
    const highWater = new HighWater(join(folder, "high-water.json"));
    const restored = await highWater.isAbove(store);
    const photos = new PhotoShelf(join(folder, "photos"));
    const rim = { list: new ErasureList(join(folder, "erasures.ndjson")), photos };
    const record = await OperatorRecord.open({ store, highWater, rim }, now_ms, keyring.root.key);
    assertOwnRecord(record, keys);
    await writeRootNote(store, keyring.root.key);
    const people = directory;
    const judge = judgeFrom({
      record,
      root: keyring.root,
      server: () => keyring.server,
      now_ms,
      isForeignKey: mode === "demo" ? () => false : demo.isDemoKey,
      isPerson: (id) => people.person(id) !== null,
    });
    const exchange = await ServerSide.start(
      {
        log: withAppend(store, record),
        judge,
        chance: () => randomBytes(4).toString("hex"),
        now: () => msToInstant(now_ms()),
        onRestored: async () => {
          keyring.renewServer();
          await record.certifyServer(keyring.root, keyring.server);
        },
      },
      { restored },
    );
    await record.certifyServer(keyring.root, keyring.server);
    await exchange.inTurn(() => record.eraseAgain());
    const sheets = new SheetShelf(join(folder, "sheets"));
    const close = async (): Promise<void> => {
      // Whatever is being written is let finish.
      await exchange.inTurn(() => store.close());
      people.close();
    };
    const server = { mode, folder, now_ms, record, directory, keyring, sheets, photos, exchange, close };
    if (mode === "demo" && (await store.count()) === 0) await demo.seedDemo(server, demoSpan);
    return server;
  } catch (error) {
    directory?.close();
    await store.close();
    throw error;
  }
}

function makeFolder(folder: string): void {
  try {
    mkdirSync(folder, { recursive: true, mode: 0o700 });
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    throw new StartError(`${folder}: cannot be made (${why}). Name another folder with PREEN_DATA.`);
  }
}

/** With another root nobody in the record would be believed, and somebody could found it a second time. */
function assertOwnRecord({ operator }: OperatorRecord, keys: string): void {
  if (operator === null || operator.state.opened !== null) return;
  throw new StartError(
    `${keys}: is not the file of keys that this record was founded with. Put the copy that you keep of it in its place.`,
  );
}

/** The public half of the operator's key, for tools that read the record and must not see the keys. */
async function writeRootNote(store: SqliteStore, root: string): Promise<void> {
  if ((await store.readNote(rootNote)) !== root) await store.writeNote(rootNote, root);
}

/** A record of the demo is never taken for an operator's, nor the other way round. */
async function assertMode(store: SqliteStore, mode: Mode, folder: string): Promise<void> {
  const found = await store.readNote(modeNote);
  if (found === null) await store.writeNote(modeNote, mode);
  else if (found !== mode) {
    throw new StartError(
      `${folder}: holds the record of mode ${found}, not of ${mode}. Name another folder with PREEN_DATA, or set PREEN_MODE=${found}.`,
    );
  }
}

/** The store as the exchange sees it: entries go in by the record's own way. */
function withAppend(store: SqliteStore, record: OperatorRecord): ServerLog {
  return {
    append: (entries) => record.append(entries),
    since: (position, limit, ledger) => store.since(position, limit, ledger),
    head: () => store.head(),
    lacking: (ids) => store.lacking(ids),
    readNote: (name) => store.readNote(name),
    writeNote: (name, text) => store.writeNote(name, text),
  };
}
