// The gallery of parts, built as the app is built, for the specs that look at parts and not at screens.
import { join } from "node:path";
import react from "@vitejs/plugin-react";
import { build } from "vite";

const web = join(import.meta.dirname, "..", "..", "src", "web");

/** Builds the gallery into a folder; its page is gallery/index.html. */
export async function buildGallery(outDir: string): Promise<void> {
  await build({
    configFile: false,
    root: web,
    logLevel: "silent",
    plugins: [react()],
    build: {
      outDir,
      emptyOutDir: true,
      assetsInlineLimit: 0,
      rolldownOptions: { input: join(web, "gallery", "index.html") },
    },
  });
}

/** The plates of src/web/gallery/plates.tsx; the first spec holds this list to the page's own. */
export const plateNames = [
  "standing",
  "walk",
  "machines",
  "drawing",
  "ribbon",
  "verdicts",
  "press",
  "entry",
  "people",
  "sheet",
  "states",
  "switches",
  "type",
] as const;
export type PlateName = (typeof plateNames)[number];
