import { describe, test } from "vitest";
import { draftContract, storeContract } from "./contract.ts";
import { MemoryDrafts } from "./drafts.ts";
import { MemoryStore, makeMemoryDisk } from "./memory.ts";

describe("The store in memory", () => {
  test.each(storeContract)("$title", async ({ run }) => {
    await run(async () => {
      const disk = makeMemoryDisk();
      return { open: async (hook) => new MemoryStore(disk, hook), discard: async () => {} };
    });
  });
});

describe("Drafts in memory", () => {
  test.each(draftContract)("$title", async ({ run }) => {
    await run(async () => {
      const disk = new Map<string, string>();
      return { open: async (hook) => new MemoryDrafts(disk, hook), discard: async () => {} };
    });
  });
});
