// Which requests the service worker answers from its cache, and with what. Pure, so that it can be tested without one.

export type Asked = { readonly method: string; readonly url: string; readonly isNavigation: boolean };

/**
 * The precached path that answers a request, relative to the scope ("" is the app's page), or null when the request
 * must go to the network untouched: what is not read, not ours, or the server's own (`api/`).
 */
export function cachedPathFor({ method, url, isNavigation }: Asked, scope: string): string | null {
  const { origin, pathname, href } = new URL(url);
  const base = new URL(scope);
  if (method !== "GET" || origin !== base.origin || !href.startsWith(base.href)) return null;
  const path = pathname.slice(base.pathname.length);
  if (path === "api" || path.startsWith("api/")) return null;
  // A deep link such as `craft/a/walk` is a page of the app; a name with a dot in its last part is a file.
  const isFile = path.slice(path.lastIndexOf("/") + 1).includes(".");
  if (isNavigation && !isFile) return "";
  return path;
}
