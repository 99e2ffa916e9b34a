// What IndexedDbStore must do beyond the common contract: live with what browsers do to a database. Runs in a real
// browser, in a window or a worker; without a test framework. The tests patch the browser's own classes for the length
// of one case where the thing itself cannot be brought about.
import {
  draftContract,
  must,
  mustReject,
  runContract,
  same,
  sampleEntry,
  storeContract,
} from "./contract.ts";
import { type Place } from "./contract.ts";
import { IndexedDbStore, deleteDeviceDatabase } from "./indexeddb.ts";
import { StoreError } from "./store-error.ts";

export type ContractResult = { readonly title: string; readonly error: string | null };

/** All contracts on IndexedDB, one line of result each. `name` keeps runs in window and worker apart. */
export async function runIndexedDbContracts(name: string): Promise<readonly ContractResult[]> {
  let n = 0;
  const makePlace = async (): Promise<Place<IndexedDbStore>> => placeOf(`${name}-${n++}`);
  const own = indexedDbCases.map(({ title, run }) => ({
    title,
    run: async () => {
      const database = `${name}-${n++}`;
      try {
        await run(database);
      } finally {
        await deleteDeviceDatabase(database);
      }
    },
  }));
  return [
    ...(await runContract(storeContract, makePlace)),
    ...(await runContract(draftContract, makePlace)),
    ...(await runContract(own, makePlace)),
  ];
}

function placeOf(name: string): Place<IndexedDbStore> {
  return {
    open: (hook) => IndexedDbStore.open(name, hook === undefined ? {} : { onOperation: hook }),
    discard: () => deleteDeviceDatabase(name),
  };
}

const indexedDbCases: readonly { title: string; run: (database: string) => Promise<void> }[] = [
  {
    title: "asks for every write to be on the disk",
    run: async (database) => {
      const asked: unknown[] = [];
      const store = await IndexedDbStore.open(database);
      const restore = patch(IDBDatabase.prototype, "transaction", (original) => {
        return function (this: IDBDatabase, ...args: Parameters<IDBDatabase["transaction"]>) {
          asked.push([args[1], args[2]?.durability]);
          return original.apply(this, args);
        };
      });
      await store.append([sampleEntry("craft:a", 1)]).finally(restore);
      await store.close();
      same(asked, [["readwrite", "strict"]], "mode and durability");
    },
  },
  {
    title: "opens a connection again once when the browser dropped it, and finishes the work",
    run: async (database) => {
      const store = await IndexedDbStore.open(database);
      for (const name of ["InvalidStateError", "UnknownError"]) {
        const { restore, times } = failTransactions(new DOMException("connection lost", name), 1);
        await store.writeNote("after", name).finally(restore);
        same(times(), 2, "transactions begun");
        same(await store.readNote("after"), name, `the note written across ${name}`);
      }
      await store.close();
    },
  },
  {
    title: "gives up with a named error when the connection is lost twice, and works again later",
    run: async (database) => {
      const store = await IndexedDbStore.open(database);
      const { restore } = failTransactions(new DOMException("connection lost", "UnknownError"), 2);
      const error = await mustReject(() => store.append([sampleEntry("craft:a", 1)]), "append").finally(
        restore,
      );
      same(codeOf(error), "unavailable", "code");
      same(await store.count(), 0, "nothing of it was kept");
      await store.append([sampleEntry("craft:a", 1)]);
      same(await store.count(), 1, "the next append");
      await store.close();
    },
  },
  {
    title: "says that there is no room, keeps what was saved, and nothing of the refused call",
    run: async (database) => {
      const store = await IndexedDbStore.open(database);
      await store.append([sampleEntry("craft:a", 1)]);
      const restore = patch(IDBObjectStore.prototype, "add", () => () => {
        throw new DOMException("the quota is reached", "QuotaExceededError");
      });
      const error = await mustReject(() => store.append([sampleEntry("craft:a", 2)]), "append").finally(
        restore,
      );
      same(codeOf(error), "full", "code");
      same(await store.lacking([sampleEntry("craft:a", 1).id]), [], "what was saved before");
      same(await store.count(), 1, "count");
      await store.close();
    },
  },
  {
    title: "does not wait for ever when opening hangs",
    run: async (database) => {
      const restore = patch(IDBFactory.prototype, "open", (original) => {
        return function (this: IDBFactory, ...args: Parameters<IDBFactory["open"]>) {
          const request = original.apply(this, args);
          request.addEventListener("success", () => request.result.close());
          request.addEventListener = () => {};
          return request;
        };
      });
      const opening = mustReject(() => IndexedDbStore.open(database, { openTimeout_ms: 50 }), "open");
      const error = await opening.finally(restore);
      same(codeOf(error), "unavailable", "code");
      must(String(error).includes(database), "the message names the database");
    },
  },
  {
    title: "gives way to a newer version of the app and says so from then on",
    run: async (database) => {
      let told = 0;
      const store = await IndexedDbStore.open(database, { onTakenOver: () => told++ });
      const newer = await rawOpen(database, 7);
      same(told, 1, "told that it was taken over");
      same(codeOf(await mustReject(() => store.writeNote("late", "x"), "late note")), "newer", "code");
      newer.close();
      same(
        codeOf(await mustReject(() => IndexedDbStore.open(database), "open")),
        "newer",
        "code when opened",
      );
    },
  },
  {
    title: "does not come back empty when its database is deleted under it",
    run: async (database) => {
      const store = await IndexedDbStore.open(database);
      await store.writeNote("enrolled", "yes");
      await deleteDeviceDatabase(database);
      const error = await mustReject(() => store.readNote("enrolled"), "note after the deletion");
      same(codeOf(error), "unavailable", "code");
      const names = (await indexedDB.databases()).map((d) => d.name);
      must(!names.includes(database), "no database was made in its place");
    },
  },
];

function codeOf(error: unknown): string {
  return error instanceof StoreError ? error.code : String(error);
}

function rawOpen(name: string, version: number): Promise<IDBDatabase> {
  return new Promise((resolve, reject) => {
    const request = indexedDB.open(name, version);
    request.addEventListener("success", () => resolve(request.result));
    request.addEventListener("error", () => reject(request.error ?? new Error("open failed")));
    request.addEventListener("blocked", () => reject(new Error("the older connection did not give way")));
  });
}

/** Makes the next `count` transactions fail to begin; answers how many were begun in all. */
function failTransactions(error: DOMException, count: number): { restore: () => void; times: () => number } {
  let times = 0;
  const restore = patch(IDBDatabase.prototype, "transaction", (original) => {
    return function (this: IDBDatabase, ...args: Parameters<IDBDatabase["transaction"]>) {
      times++;
      if (times <= count) throw error;
      return original.apply(this, args);
    };
  });
  return { restore, times: () => times };
}

/** Replaces a method of a browser class; answers with what puts it back. */
function patch<T extends object, K extends keyof T>(
  target: T,
  name: K,
  replacement: (original: T[K]) => T[K],
): () => void {
  const original = target[name];
  target[name] = replacement(original);
  return () => {
    target[name] = original;
  };
}
