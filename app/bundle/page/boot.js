// Starts the app and its service worker. The app reads `window.pentally`; all
// hashed names live in this one generated set, so the wasm need not know them.
const BARN = ["%app-js%", "%app-wasm%"];
const OFFICE = ["%office-js%", "%office-wasm%"];

const house = { set: document.documentElement.dataset.set, waiting: null, officeMissing: false };
window.pentally = house;

// The barn's screens come first; those of bench and office follow behind them.
// Where the barn's meet an address of the others they set this mark and load the
// page again; from then on this tab runs the module that holds them all.
const MARK = "pentally-office";
// A network that swallows what it is asked must not keep the barn's screens away.
const PATIENCE_MS = 5000;
// What is only slow shall not pass for what is not trusted.
const TAKE_OVER_MS = 4000;
const TRUST_MS = 15000;

/** Opens an address with the office's screens. The router may not have written it yet. */
house.toOffice = (address) => {
  if (mark(true)) location.replace(address);
};

async function startScreens() {
  if (isMarked()) {
    // Set again once they run: what fails to start is not tried by every load of this tab.
    mark(false);
    try {
      const office = await Promise.race([fetched(OFFICE), tooLate()]);
      await office();
      mark(true);
      return;
    } catch (why) {
      console.warn("The office's screens did not come:", why);
      house.officeMissing = true;
    }
  }
  const barn = await fetched(BARN);
  await barn();
}

// Both files are here before anything starts: half a start cannot be taken back.
async function fetched([script, code]) {
  const [module, answer] = await Promise.all([import(script), fetch(code)]);
  if (!answer.ok) throw new Error(`${code}: ${answer.status}`);
  return () => module.default({ module_or_path: answer });
}

function tooLate(ms = PATIENCE_MS) {
  return new Promise((_, fail) => setTimeout(fail, ms, new Error("too slow")));
}

// Where a browser keeps nothing for this page, there is no mark either.
function isMarked() {
  try {
    return sessionStorage.getItem(MARK) !== null;
  } catch {
    return false;
  }
}

function mark(on) {
  try {
    if (on) sessionStorage.setItem(MARK, "1");
    else sessionStorage.removeItem(MARK);
    return true;
  } catch {
    return false;
  }
}

/** Watches for a tag through the camera till `over`; loads what that needs. See scan.js. */
house.watch = (video, tell, over) =>
  import(document.documentElement.dataset.scanner)
    .then((scanner) => scanner.default(video, tell, over))
    .catch(() => over.aborted || tell("not loaded"));

/** Whether the browser trusts this address: where a warning was clicked through, everything looks
 * secure, but no service worker comes in. */
house.isTrusted = async () => {
  if (!isSecureContext || !navigator.serviceWorker) return false;
  return Promise.race([registered(), tooLate(TRUST_MS)]).then(
    () => true,
    () => false,
  );
};

// A voice on the device itself speaks without a network too.
function voiceOf(lang) {
  const fitting = (window.speechSynthesis?.getVoices() ?? []).filter((v) => v.lang.toLowerCase().startsWith(lang));
  return fitting.find((v) => v.localService) ?? fitting[0];
}

/** Whether the browser can read this language aloud. */
house.hasVoice = (lang) => voiceOf(lang) !== undefined;

/** Reads a text aloud in place of what is being read; an empty one falls silent. */
house.readAloud = (lang, text) => {
  window.speechSynthesis?.cancel();
  const voice = text && voiceOf(lang);
  if (voice) speechSynthesis.speak(Object.assign(new SpeechSynthesisUtterance(text), { voice, lang: voice.lang }));
};

// One for the page: browsers let few of them sound. On some only a whole tap may wake it.
let sounding;

/** Answers a tap at the microscope: a tone of so many Hz and ms where it is wanted, a touch where the
 * phone has one. Nothing here may stop a count. */
house.signal = (hz, ms, aloud) => {
  try {
    navigator.vibrate?.(Math.min(ms, 300));
    if (!aloud || !window.AudioContext) return;
    if (!sounding) {
      sounding = new AudioContext();
      document.addEventListener("click", () => sounding.resume());
    }
    sounding.resume();
    const [now, end] = [sounding.currentTime, sounding.currentTime + ms / 1000];
    const tone = new OscillatorNode(sounding, { frequency: hz });
    const loud = new GainNode(sounding, { gain: 0.3 });
    loud.gain.setValueAtTime(0.3, now);
    loud.gain.linearRampToValueAtTime(0, end);
    tone.connect(loud).connect(sounding.destination);
    tone.start(now);
    tone.stop(end);
  } catch (why) {
    console.warn("No sound:", why);
  }
};

/** Keeps the screen lit while somebody looks down the microscope. */
let lit;
house.keepLit = async (on) => {
  try {
    await lit?.release();
    lit = on === "on" ? await navigator.wakeLock?.request("screen") : undefined;
  } catch {
    lit = undefined;
  }
};

/** Lets a waiting newer version take over; the page then loads again. Browsers let the older worker
 * finish what it is at first, for minutes if need be: a page that loads again leaves it nothing to do. */
house.takeOver = () => {
  if (!house.waiting) return;
  house.waiting.postMessage("take over");
  setTimeout(() => location.reload(), TAKE_OVER_MS);
};

function newerIsWaiting(worker) {
  house.waiting = worker;
  window.dispatchEvent(new Event("pentally:newer"));
}

// Asked for once, by whoever needs it first.
let registering;
function registered() {
  registering ??= navigator.serviceWorker.register("/sw.js", { updateViaCache: "none" });
  return registering;
}

async function keepOffline() {
  // Absent on plain http: there the app reads only, and says so itself.
  const workers = navigator.serviceWorker;
  if (!workers) return;
  let controlled = workers.controller !== null;
  let loading = false;
  workers.addEventListener("controllerchange", () => {
    // The first worker of a fresh visit belongs to this very set: nothing to load. Nor is
    // there when the browser deleted the worker with all that is stored: then this page's
    // memory is all that is left of what was saved, and the next worker is a first one.
    if (!workers.controller) controlled = false;
    if (!controlled || loading) return;
    loading = true;
    location.reload();
  });
  const registration = await registered();
  if (registration.waiting && controlled) newerIsWaiting(registration.waiting);
  registration.addEventListener("updatefound", () => {
    const worker = registration.installing;
    worker.addEventListener("statechange", () => {
      if (worker.state === "installed" && registration.active) newerIsWaiting(worker);
      if (worker.state === "redundant" && !registration.active) {
        console.warn("The app is not kept for use offline: a file of its set did not come.");
      }
    });
  });
}

await startScreens();
performance.mark("pentally:started");
keepOffline().catch((why) => console.warn("The app is not kept for use offline:", why));
// Behind the first screen: the bench has no network either. A worker that came in while this
// page was on its way here left it out.
navigator.serviceWorker?.ready.then(({ active }) => {
  active.postMessage("keep the rest");
  if (!navigator.serviceWorker.controller) active.postMessage("take in");
});
