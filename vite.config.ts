// How the app is built: one page, one script that opens it, and beside it what the first screen can do without (the
// astronomy, the screen of weather and light). Everything is precached (tools/precache.ts), and what comes later is
// asked for as soon as the app stands, so that no part of a version is still missing when a newer one takes over.
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
  },
});
