import { describe, test } from "vitest";
import { type Place, draftContract, storeContract } from "./contract.ts";
import { MemoryStore, makeMemoryDisk } from "./memory.ts";

async function makePlace(): Promise<Place<MemoryStore>> {
  const disk = makeMemoryDisk();
  return { open: async (hook) => new MemoryStore(disk, hook), discard: async () => {} };
}

describe("The store in memory", () => {
  test.each(storeContract)("$title", ({ run }) => run(makePlace));
});

describe("Drafts in memory", () => {
  test.each(draftContract)("$title", ({ run }) => run(makePlace));
});
