// The loudspeaker: plays recordings that are already in memory.

/** @param {typeof AudioContext} [Context] */
export function makePlayback(Context) {
  /** @type {AudioContext | undefined} */
  let context;
  /** @type {AudioBufferSourceNode | undefined} */
  let sounding;

  function stop() {
    sounding?.stop();
    sounding = undefined;
  }

  return {
    stop,
    /** To be called inside a press. False when it cannot be played. @param {ArrayBuffer} bytes */
    async play(bytes) {
      stop();
      try {
        context ??= new /** @type {typeof AudioContext} */ (Context)();
        await context.resume();
        const source = context.createBufferSource();
        source.buffer = await context.decodeAudioData(bytes.slice(0));
        source.connect(context.destination);
        source.start();
        sounding = source;
        return true;
      } catch {
        return false;
      }
    },
  };
}
