// A tiny app built as the real one is, so that the service worker can be tried by itself and in several versions.
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { build, type Plugin } from "vite";
import { precache } from "../../tools/precache.ts";

const webFolder = join(import.meta.dirname, "..", "..", "src", "web");

/**
 * Builds the app into `folder`/dist and returns that path. The page shows `words`; when a newer version waits it shows
 * a button that lets it take over. `loadLate()` loads a part that the page does not have yet.
 */
export async function buildSampleApp(
  folder: string,
  words: string,
  plugins: readonly Plugin[] = [],
): Promise<string> {
  const register = join(webFolder, "worker", "register.ts");
  const files: Readonly<Record<string, string>> = {
    "index.html": `<!doctype html><title>sample</title><h1></h1><script type="module" src="/main.ts"></script>`,
    "main.ts": `
      import "./style.css";
      import { registerWorker } from ${JSON.stringify(register)};
      document.querySelector("h1").textContent = ${JSON.stringify(words)};
      globalThis.loadLate = async () => (await import("./late.ts")).late;
      void registerWorker((takeOver) => {
        const button = document.createElement("button");
        button.textContent = "Take the new version";
        button.onclick = takeOver;
        document.body.append(button);
      });`,
    "late.ts": `export const late = ${JSON.stringify(`late part of the ${words}`)};`,
    "style.css": `@font-face { font-family: Sample; src: url("./sample.woff2"); } h1 { font-family: Sample; }`,
    "sample.woff2": "no font, but a file",
    "public/manifest.webmanifest": `{"name":"sample"}`,
  };
  for (const [name, text] of Object.entries(files)) {
    const path = join(folder, name);
    mkdirSync(join(path, ".."), { recursive: true });
    writeFileSync(path, text);
  }
  const outDir = join(folder, "dist");
  await build({
    configFile: false,
    root: folder,
    logLevel: "silent",
    plugins: [precache(join(webFolder, "worker", "sw.ts")), ...plugins],
    build: { outDir, assetsInlineLimit: 0, emptyOutDir: true },
  });
  return outDir;
}
