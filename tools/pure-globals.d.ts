// What a pure room may use beyond the language itself: part of every engine, and neither clock, chance nor outside world.
// Only tsconfig.pure.json reads this; everywhere else the types of DOM and Node say the same.
declare class TextEncoder {
  encode(text: string): Uint8Array<ArrayBuffer>;
}
declare class TextDecoder {
  constructor(label?: string, options?: { readonly fatal?: boolean; readonly ignoreBOM?: boolean });
  decode(bytes: Uint8Array): string;
}
