// Starts a server by its settings and stops it again; everything that a process does around it is in main.ts.
import { readFileSync } from "node:fs";
import type { AddressInfo } from "node:net";
import { join } from "node:path";
import { Founding } from "./founding.ts";
import { buildHttp } from "./http.ts";
import { openOperatorServer, type OperatorServer } from "./operator-server.ts";
import { clockFrom, type Settings } from "./settings.ts";
import { StartError } from "./start-error.ts";
import { startWeatherFetcher } from "./weather-fetcher.ts";

export type RunningServer = {
  /** As a browser on this machine names it. */
  readonly url: string;
  readonly server: OperatorServer;
  /** The code that founds the operator; null when there is one already. */
  readonly foundingCode: string | null;
  /** Takes no more requests, lets the running ones finish, closes the files. */
  stop(): Promise<void>;
};

export type StartOptions = {
  readonly root: string;
  readonly onFault: (error: unknown, what: string) => void;
};

/** Throws a StartError or StoreError whose message names what is in the way and what to do about it. */
export async function startServer(
  settings: Settings,
  { root, onFault }: StartOptions,
): Promise<RunningServer> {
  const server = await openOperatorServer(settings, clockFrom(settings));
  try {
    const founding = new Founding(server);
    let port = settings.port;
    const app = await buildHttp({
      server,
      founding,
      version: versionOf(root),
      appFolder: join(root, "dist", "web"),
      own: { port: () => port, origin: settings.origin, bind: settings.bind },
      onFault,
    });
    await app.listen({ port, host: settings.bind }).catch((error: unknown) => {
      throw listenError(error, settings);
    });
    port = (app.server.address() as AddressInfo).port;
    const { weatherUrl } = settings;
    const fetcher = weatherUrl === null ? null : startWeatherFetcher(server, { url: weatherUrl, onFault });
    return {
      url: `http://${settings.bind.includes(":") ? `[${settings.bind}]` : settings.bind}:${port}`,
      server,
      foundingCode: founding.isDue ? founding.code : null,
      stop: async () => {
        await fetcher?.stop();
        await app.close();
        await server.close();
      },
    };
  } catch (error) {
    await server.close();
    throw error;
  }
}

function versionOf(root: string): string {
  const { version } = JSON.parse(readFileSync(join(root, "package.json"), "utf8")) as { version: string };
  return version;
}

function listenError(error: unknown, { port, bind }: Settings): unknown {
  const { code } = error as { code?: string };
  if (code === "EADDRINUSE") {
    return new StartError(
      `port ${port} is taken by another program. Stop that one, or choose another: PREEN_PORT=${port + 1} npm start`,
    );
  }
  if (code === "EACCES")
    return new StartError(
      `port ${port} may not be used by this user. Choose one above 1023 with PREEN_PORT.`,
    );
  if (code === "EADDRNOTAVAIL" || code === "ENOTFOUND")
    return new StartError(`${bind} is no address of this machine. Choose another with PREEN_BIND.`);
  return error;
}
