// Runs beside the page: hands over what the microphone gives, block by block, as it is.

const BLOCK = 1024; // samples

class Tap extends AudioWorkletProcessor {
  #block = new Float32Array(BLOCK);
  #filled = 0;

  process([[samples]]) {
    for (const sample of samples ?? []) {
      this.#block[this.#filled++] = sample;
      if (this.#filled < BLOCK) continue;
      this.port.postMessage(this.#block, [this.#block.buffer]);
      this.#block = new Float32Array(BLOCK);
      this.#filled = 0;
    }
    return true;
  }
}

registerProcessor("tap", Tap);
