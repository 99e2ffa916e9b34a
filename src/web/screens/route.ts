// Where the app stands, as its address says: `/`, `/enter`, `/setup`, `/craft/NAME`, `/craft/NAME/walk`, …
// An address that means nothing leads to the machines.

export const craftScreens = [
  "standing",
  "walk",
  "findings",
  "levels",
  "loading",
  "weather",
  "runsOut",
  "crew",
  "ledger",
] as const;
export type CraftScreen = (typeof craftScreens)[number];

export type Route =
  | { readonly screen: "machines" | "enter" | "setup" }
  | { readonly screen: CraftScreen; readonly craft: string };

export function routeOf(path: string): Route {
  const [first, craft, screen] = path.split("/").filter((part) => part !== "");
  if (first === "enter" || first === "setup") return { screen: first };
  if (first !== "craft" || craft === undefined) return { screen: "machines" };
  const known = craftScreens.find((candidate) => candidate === screen) ?? "standing";
  return { screen: known, craft: decodeURIComponent(craft) };
}

export function pathOf(route: Route): string {
  if (!("craft" in route)) return route.screen === "machines" ? "/" : `/${route.screen}`;
  const craft = `/craft/${encodeURIComponent(route.craft)}`;
  return route.screen === "standing" ? craft : `${craft}/${route.screen}`;
}
