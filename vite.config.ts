// How the app is built: one page, one script that opens it, and beside it what the first screen can do without (the
// astronomy, the larger screens, what only some browsers need). Everything is precached (tools/precache.ts), for the
// version that is newest and for the one before it, so that no part is missing in a window that loads it late.
import { join } from "node:path";
import react from "@vitejs/plugin-react";
import { defineConfig } from "vite";
import { precache } from "./tools/precache.ts";

const web = join(import.meta.dirname, "src", "web");

export default defineConfig({
  root: web,
  resolve: {
    alias: [
      { find: /^temporal-polyfill$/u, replacement: join(web, "browser-temporal.ts") },
      { find: /^.*\/words\/words\.ts$/u, replacement: join(web, "browser-words.ts") },
    ],
  },
  worker: { format: "es" },
  plugins: [react(), precache(join(web, "worker", "sw.ts"))],
  build: {
    outDir: join(import.meta.dirname, "dist", "web"),
    emptyOutDir: true,
    // Fonts and pictures stay files: the page's content policy allows no data: addresses.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
  },
});
