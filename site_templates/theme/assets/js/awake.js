// The screen stays on while somebody practises, where the browser can do that.

/**
 * @param {{ wakeLock?: WakeLock }} navigator
 * @param {Pick<Document, "visibilityState" | "addEventListener">} document
 */
export function makeScreenLock(navigator, document) {
  /** @type {WakeLockSentinel | null} */
  let lock = null;
  let wanted = false;

  async function ask() {
    if (!wanted || lock || document.visibilityState !== "visible") return;
    try {
      lock = (await navigator.wakeLock?.request("screen")) ?? null;
      lock?.addEventListener("release", () => { lock = null; });
      if (!wanted) await free();
    } catch { /* refused, as on a low battery: the device keeps its own habit */ }
  }

  async function free() {
    const held = lock;
    lock = null;
    await held?.release().catch(() => undefined);
  }

  document.addEventListener("visibilitychange", () => void ask()); // a hidden page loses it
  return {
    hold: () => { wanted = true; return ask(); },
    release: () => { wanted = false; return free(); },
  };
}
