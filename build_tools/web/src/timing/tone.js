import { readLocal, writeLocal } from '../lib/local-storage.js';

const KEY = 'hb:sound';
const PITCH_HZ = 1050; // most speakers of tablets are loudest about here
const BEEPS = 3;
const BEEP_S = 0.22;
const GAP_S = 0.16;

/**
 * A short tone, made by the browser. Browsers let a page sound only after the reader has touched
 * it: `unlock` is called from a touch.
 */
class Tone {
  /** @type {AudioContext | null} */ #context = null;
  /** @type {boolean | null} what was chosen on this page and could not be kept */ #chosen = null;

  get isOn() {
    return this.#chosen ?? readLocal(KEY) !== 'off';
  }

  /**
   * @param {boolean} on
   * @returns {boolean} whether that is kept for the next page
   */
  choose(on) {
    const isKept = writeLocal(KEY, on ? null : 'off');
    this.#chosen = isKept ? null : on;
    return isKept;
  }

  /** Whether a tone would be heard now, as far as a page can know. */
  get isReady() {
    return this.#context?.state === 'running';
  }

  unlock() {
    if (!this.isOn || !('AudioContext' in window)) return;
    this.#context ??= new AudioContext();
    // Refused where there is nothing to sound with: the page shows the end all the same.
    void this.#context.resume().catch(() => {});
  }

  play() {
    if (!this.isOn || !this.#context || !this.isReady) return;
    const start = this.#context.currentTime + 0.02;
    for (let beep = 0; beep < BEEPS; beep += 1) {
      this.#beep(this.#context, start + beep * (BEEP_S + GAP_S));
    }
  }

  /** Lets go of the speaker. */
  rest() {
    if (this.isReady) void this.#context?.suspend();
  }

  /**
   * @param {AudioContext} context
   * @param {number} at
   */
  #beep(context, at) {
    const source = new OscillatorNode(context, { type: 'square', frequency: PITCH_HZ });
    const loudness = new GainNode(context, { gain: 0 });
    // Eased in and out: a tone that is cut off clicks.
    loudness.gain.setValueAtTime(0, at);
    loudness.gain.linearRampToValueAtTime(0.5, at + 0.01);
    loudness.gain.setValueAtTime(0.5, at + BEEP_S - 0.02);
    loudness.gain.linearRampToValueAtTime(0, at + BEEP_S);
    source.connect(loudness).connect(context.destination);
    source.start(at);
    source.stop(at + BEEP_S);
  }
}

export const tone = new Tone();
