// What colours a picture of a page holds: the brightest value of each channel over all its pixels.
import type { Page } from "@playwright/test";

export type Brightest = { readonly red: number; readonly green: number; readonly blue: number };

/** Looks at what the page shows now, scrollbars, focus and selection included. */
export async function brightestOf(page: Page): Promise<Brightest> {
  const picture = (await page.screenshot({ animations: "disabled" })).toString("base64");
  return page.evaluate(async (encoded) => {
    const bytes = Uint8Array.from(atob(encoded), (letter) => letter.charCodeAt(0));
    const bitmap = await createImageBitmap(new Blob([bytes], { type: "image/png" }));
    const context = new OffscreenCanvas(bitmap.width, bitmap.height).getContext("2d");
    if (context === null) throw new Error("no canvas");
    context.drawImage(bitmap, 0, 0);
    const { data } = context.getImageData(0, 0, bitmap.width, bitmap.height);
    const [red, green, blue] = [0, 1, 2].map((channel) => {
      let most = 0;
      for (let at = channel; at < data.length; at += 4) most = Math.max(most, data[at] ?? 0);
      return most;
    });
    return { red: red ?? -1, green: green ?? -1, blue: blue ?? -1 };
  }, picture);
}
