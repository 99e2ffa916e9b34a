// Serves a folder on localhost, and counts what is asked of it: for specs that need pages but not Preen's server.
import { once } from "node:events";
import { readFile } from "node:fs/promises";
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { extname, join, normalize } from "node:path";

const types: Readonly<Record<string, string>> = {
  ".css": "text/css",
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript",
  ".woff2": "font/woff2",
};

export type FolderServer = {
  readonly url: string;
  /** Serves another folder from now on, as a newly installed version would. */
  serve(folder: string): void;
  /** Paths asked for so far, in order. */
  readonly asked: readonly string[];
  stop(): Promise<void>;
};

export async function serveFolder(folder: string): Promise<FolderServer> {
  let current = folder;
  const asked: string[] = [];
  const answer = async (path: string): Promise<{ status: number; type: string; body: string | Buffer }> => {
    if (path.startsWith("/api/")) return { status: 200, type: "application/json", body: `${asked.length}` };
    const file = join(current, normalize(path === "/" ? "/index.html" : path));
    try {
      const type = types[extname(file)] ?? "application/octet-stream";
      return { status: 200, type, body: await readFile(file) };
    } catch {
      return { status: 404, type: "text/plain", body: "not here" };
    }
  };
  const server = createServer((request, response) => {
    const path = new URL(request.url ?? "/", "http://localhost").pathname;
    asked.push(path);
    void answer(path).then(({ status, type, body }) =>
      response.writeHead(status, { "content-type": type }).end(body),
    );
  });
  server.listen(0, "localhost");
  await once(server, "listening");
  return {
    url: `http://localhost:${(server.address() as AddressInfo).port}`,
    serve: (next) => void (current = next),
    asked,
    stop: async () => {
      server.closeAllConnections();
      server.close();
      await once(server, "close");
    },
  };
}
