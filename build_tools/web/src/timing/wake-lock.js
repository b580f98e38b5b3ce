/** Keeps the screen awake while something is timed, where the browser can. */
export class WakeLock {
  /** @type {WakeLockSentinel | null} */ #lock = null;
  #wanted = false;

  /** Also after the page was hidden: a browser lets the lock go then. */
  async hold() {
    this.#wanted = true;
    if (this.#lock && !this.#lock.released) return;
    try {
      const lock = await navigator.wakeLock?.request('screen');
      if (this.#wanted) this.#lock = lock ?? null;
      else await lock?.release();
    } catch {
      // Low battery, or a page opened from a folder: the time is right all the same.
    }
  }

  async release() {
    this.#wanted = false;
    const lock = this.#lock;
    this.#lock = null;
    await lock?.release();
  }
}
