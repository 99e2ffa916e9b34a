// Runs in the browser: the contracts of the store on IndexedDB, in the window and in a worker. Built by
// store-contract.spec.ts, which calls `runContracts`.
import { type ContractResult, runIndexedDbContracts } from "../../src/store/indexeddb-contract.ts";

type Results = readonly ContractResult[];

declare global {
  interface Window {
    runContracts: Readonly<Record<"window" | "worker", () => Promise<Results>>>;
  }
}

window.runContracts = {
  window: () => runIndexedDbContracts("window"),
  worker: () =>
    new Promise((resolve, reject) => {
      const worker = new Worker(new URL("./contract-worker.ts", import.meta.url), { type: "module" });
      worker.addEventListener("message", ({ data }: MessageEvent<Results>) => resolve(data));
      worker.addEventListener("error", ({ message }) => reject(new Error(message)));
    }),
};
