// The sound of a fall: three short tones, again and again until it is stopped. Set on or off on this device.
//
// A browser lets a page sound only after it has been touched. The first touch opens the way; whether it is open can be
// asked, so that a page that must stay silent can say so.

const key = "preen.sound";
const every_ms = 3_000;
const tones = [
  { at_s: 0, hz: 988 },
  { at_s: 0.22, hz: 784 },
  { at_s: 0.44, hz: 988 },
] as const;

let context: AudioContext | null = null;
let timer: ReturnType<typeof setInterval> | null = null;

export function isSoundOn(): boolean {
  try {
    return localStorage.getItem(key) !== "off";
  } catch {
    return true;
  }
}

export function setSound(on: boolean): void {
  try {
    localStorage.setItem(key, on ? "on" : "off");
  } catch {
    // Private windows refuse storage: it sounds again in the next one, which is the louder mistake.
  }
}

function open(): AudioContext | null {
  if (typeof AudioContext === "undefined") return null;
  context ??= new AudioContext();
  if (context.state === "suspended") void context.resume();
  return context;
}

/** Opens the way at the first touch of the page, whatever it touches. */
export function openAtTouch(): void {
  for (const kind of ["pointerdown", "keydown"]) addEventListener(kind, open, { once: true, capture: true });
}

/** Whether the browser lets this page sound. */
export function maySound(): boolean {
  return open()?.state === "running";
}

function sound(): void {
  const audio = open();
  navigator.vibrate?.([250, 120, 250]);
  if (audio === null) return;
  for (const { at_s, hz } of tones) {
    const [tone, loudness] = [audio.createOscillator(), audio.createGain()];
    const begin = audio.currentTime + at_s;
    tone.type = "triangle";
    tone.frequency.value = hz;
    // Without a slope at either end a loudspeaker clicks.
    loudness.gain.setValueAtTime(0, begin);
    loudness.gain.linearRampToValueAtTime(0.5, begin + 0.02);
    loudness.gain.setValueAtTime(0.5, begin + 0.14);
    loudness.gain.linearRampToValueAtTime(0, begin + 0.18);
    tone.connect(loudness).connect(audio.destination);
    tone.start(begin);
    tone.stop(begin + 0.2);
  }
}

export function soundOnce(): void {
  sound();
}

/** Sounds until it is stopped. */
export function startAlarm(): void {
  if (timer !== null) return;
  sound();
  timer = setInterval(sound, every_ms);
}

export function stopAlarm(): void {
  if (timer !== null) clearInterval(timer);
  timer = null;
  navigator.vibrate?.(0);
}
