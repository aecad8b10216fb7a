// Reads frames away from the screen: a frame comes in, the text of a symbol or null goes out.
// The first null says that the reader is loaded.
import load, { look } from "%scanner-js%";

onmessage = ({ data: { pixels, width, height, turn } }) => {
  postMessage(look(new Uint8Array(pixels), width, height, turn) ?? null);
};

load({ module_or_path: "%scanner-wasm%" }).then(
  () => postMessage(null),
  // Out of the promise, so that the page hears of it.
  (why) => setTimeout(() => { throw why; }),
);
