// The light that the screen is set to: kept on this device, set on <html> where lights.css reads it.
// /light.js sets the same attribute before the first paint, from the same key.

export const lights = ["day", "dark", "red", "goggles"] as const;
export type Light = (typeof lights)[number];

const key = "preen.light";

/** Lights that spoil neither the dark-adapted eye nor goggles. Going from one of these to another light is asked about. */
export function isDim(light: Light): boolean {
  return light === "red" || light === "goggles";
}

export function currentLight(): Light {
  const set = document.documentElement.dataset["light"];
  return lights.find((light) => light === set) ?? "day";
}

/** Sets the light at once; a device that cannot keep it shows it all the same. */
export function setLight(light: Light): void {
  const root = document.documentElement;
  root.dataset["light"] = light;
  // The frame that the system draws round an installed app takes the paper's colour.
  const paper = getComputedStyle(root).getPropertyValue("--paper").trim();
  document.querySelector('meta[name="theme-color"]')?.setAttribute("content", paper);
  try {
    localStorage.setItem(key, light);
  } catch {
    // Private windows refuse storage: the light holds until the page is left.
  }
}
