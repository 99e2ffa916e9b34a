// Runs in a worker of the browser; see contract-page.ts.
import { runIndexedDbContracts } from "../../src/store/indexeddb-contract.ts";

postMessage(await runIndexedDbContracts("worker"));
