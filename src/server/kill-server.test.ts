import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, test } from "vitest";
import { killServer } from "./kill-server.ts";

test("A server killed five times under load has lost nothing that it acknowledged", async () => {
  const folder = mkdtempSync(join(tmpdir(), "preen-kill-server-"));
  try {
    const { acknowledged, photos, lost, inTraffic } = await killServer(5, folder);
    expect(acknowledged).toBeGreaterThan(20);
    expect(photos).toBeGreaterThan(0);
    expect(lost).toBe(0);
    expect(inTraffic).toBeGreaterThanOrEqual(3);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}, 240_000);
