// How the app is built: one page, one script, everything in it precached (tools/precache.ts).
import { join } from "node:path";
import react from "@vitejs/plugin-react";
import { defineConfig } from "vite";
import { precache } from "./tools/precache.ts";

const web = join(import.meta.dirname, "src", "web");

export default defineConfig({
  root: web,
  plugins: [react(), precache(join(web, "worker", "sw.ts"))],
  build: {
    outDir: join(import.meta.dirname, "dist", "web"),
    emptyOutDir: true,
    // Fonts and pictures stay files: the page's content policy allows no data: addresses.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    // One script: a part that is loaded later could be gone once a newer version has taken over.
    rolldownOptions: { output: { codeSplitting: false } },
  },
});
