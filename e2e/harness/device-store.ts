// What a device keeps in its own database, looked at and meddled with from outside: for specs and benchmarks of snapshots.
// The page need not run the app; any page of the same address will do.
import type { Page } from "@playwright/test";

type Work = "count" | "throwAway" | "damage";
export type HeldByDevice = { readonly entries: number; readonly snapshots: readonly string[] };

function workOn(page: Page, work: Work): Promise<HeldByDevice> {
  return page.evaluate(async (wanted) => {
    const done = <Result>(request: IDBRequest<Result>): Promise<Result> =>
      new Promise((resolve, reject) => {
        request.addEventListener("success", () => resolve(request.result));
        request.addEventListener("error", () => reject(new Error("the device's store failed")));
      });
    const db = await done(indexedDB.open("preen-device"));
    try {
      const store = db.transaction("snapshot", "readwrite").objectStore("snapshot");
      const names = await done(store.getAllKeys());
      if (wanted === "throwAway") await done(store.clear());
      if (wanted === "damage") {
        for (const name of names) {
          const text = (await done(store.get(name))) as string;
          await done(store.put(text.replace('"shapes"', '"shape"'), name));
        }
      }
      const entries = await done(db.transaction("entry").objectStore("entry").count());
      return { entries, snapshots: wanted === "throwAway" ? [] : names.map(String).toSorted() };
    } finally {
      db.close();
    }
  }, work);
}

/** How many entries a device holds, and of which ledgers it keeps snapshots. */
export function heldByDevice(page: Page): Promise<HeldByDevice> {
  return workOn(page, "count");
}

export function throwSnapshotsAway(page: Page): Promise<HeldByDevice> {
  return workOn(page, "throwAway");
}

/** Changes a letter in each snapshot. */
export function damageSnapshots(page: Page): Promise<HeldByDevice> {
  return workOn(page, "damage");
}
