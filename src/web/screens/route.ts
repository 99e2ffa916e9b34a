// Where the app stands, as its address says: `/`, `/enter`, `/setup`, `/craft/NAME`, `/craft/NAME/walk`, `/sheets/SHEET/CHART`, …
// An address that means nothing leads to the machines.

/** The screens of a machine in the order in which they are offered, those that are asked for together side by side. */
export const craftScreenGroups = [
  ["standing", "call", "inFlight", "reach"],
  ["walk", "findings", "levels", "fuel", "loading", "power"],
  ["weather", "sites", "crew", "custody", "handover"],
  ["runsOut", "flights", "office", "ledger"],
] as const;
export type CraftScreen = (typeof craftScreenGroups)[number][number];
export const craftScreens: readonly CraftScreen[] = craftScreenGroups.flat();

export type Route =
  | { readonly screen: "machines" | "enter" | "setup" | "operator" }
  /** A sheet by its key, and one of its charts; null for the first sheet, and for all charts. */
  | { readonly screen: "sheets"; readonly sheet: string | null; readonly chart: string | null }
  | { readonly screen: CraftScreen; readonly craft: string };

export function routeOf(path: string): Route {
  const [first, craft, screen] = path.split("/").filter((part) => part !== "");
  if (first === "enter" || first === "setup" || first === "operator") return { screen: first };
  if (first === "sheets") return { screen: "sheets", sheet: plain(craft), chart: plain(screen) };
  if (first !== "craft" || craft === undefined) return { screen: "machines" };
  const known = craftScreens.find((candidate) => candidate === screen) ?? "standing";
  return { screen: known, craft: decodeURIComponent(craft) };
}

// A dot in an address asks the server for a file, so none is left in it.
const undotted = (part: string): string =>
  encodeURIComponent(part.replaceAll("~", "~7E").replaceAll(".", "~2E"));
const plain = (part: string | undefined): string | null =>
  part === undefined ? null : decodeURIComponent(part).replaceAll("~2E", ".").replaceAll("~7E", "~");

export function pathOf(route: Route): string {
  if (route.screen === "sheets") {
    const parts = [route.sheet, route.chart].filter((part) => part !== null);
    return ["/sheets", ...parts.map((part) => undotted(part))].join("/");
  }
  if (!("craft" in route)) return route.screen === "machines" ? "/" : `/${route.screen}`;
  const craft = `/craft/${encodeURIComponent(route.craft)}`;
  return route.screen === "standing" ? craft : `${craft}/${route.screen}`;
}
