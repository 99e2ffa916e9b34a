// What Playwright needs to know to start the browser that tools/browser.ts finds.
import type { LaunchOptions } from "@playwright/test";
import { findBrowser } from "../../tools/browser.ts";

export type LaunchSettings = { readonly channel?: string; readonly launchOptions: LaunchOptions };

export function launchSettings(): LaunchSettings {
  const { executablePath, channel, args, env } = findBrowser();
  const launchOptions: LaunchOptions = {
    args: [...args],
    env: { ...definedOf(process.env), ...env },
    ...(executablePath === undefined ? {} : { executablePath }),
  };
  return channel === undefined ? { launchOptions } : { channel, launchOptions };
}

function definedOf(env: NodeJS.ProcessEnv): Record<string, string> {
  return Object.fromEntries(
    Object.entries(env).filter((pair): pair is [string, string] => pair[1] !== undefined),
  );
}
