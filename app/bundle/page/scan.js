// The scanner's picture: the camera's frames go to a worker, one at a time, each read in
// another way than the one before. `tell(what, text)` hears "looking", "read" with the text of
// a symbol, or what is wrong; `over` ends everything.
const WISH = {
  audio: false,
  video: { facingMode: "environment", width: { ideal: 1280 }, height: { ideal: 720 } },
};

const FAULTS = {
  NotAllowedError: "refused",
  SecurityError: "refused",
  NotFoundError: "missing",
  OverconstrainedError: "missing",
};

export default function watch(video, tell, over) {
  if (over.aborted) return;
  const media = navigator.mediaDevices;
  if (!media?.getUserMedia) {
    tell(isSecureContext ? "missing" : "not secure");
    return;
  }
  const say = (what, text) => {
    if (!over.aborted) tell(what, text);
  };
  const look = readFrames(video, say, over);
  video.addEventListener("playing", () => {
    say("looking");
    look();
  });
  holdCamera(media, video, say, over);
}

/** Keeps the camera on while the page is seen, and no longer. */
function holdCamera(media, video, say, over) {
  let asking = false;
  Object.assign(video, { autoplay: true, muted: true, playsInline: true });
  const close = () => {
    video.srcObject?.getTracks().forEach((track) => track.stop());
    video.srcObject = null;
  };
  const open = async () => {
    if (asking || video.srcObject || document.hidden || over.aborted) return;
    asking = true;
    try {
      const stream = await media.getUserMedia(WISH);
      video.srcObject = stream;
      // Not by us: another app took it, or it was pulled out.
      stream.getTracks().forEach((track) => (track.onended = () => say("busy")));
      if (document.hidden || over.aborted) close();
    } catch (why) {
      say(FAULTS[why.name] ?? "busy");
    }
    asking = false;
  };
  document.addEventListener("visibilitychange", () => (document.hidden ? close() : open()), { signal: over });
  over.addEventListener("abort", close);
  open();
}

/** Gives what takes the next frame, if the worker is free and the camera on. */
function readFrames(video, say, over) {
  const canvas = document.createElement("canvas");
  const sheet = canvas.getContext("2d", { willReadFrequently: true });
  let worker;
  let busy;
  let turn = 0;
  const look = () => {
    if (busy || over.aborted || video.readyState < HTMLMediaElement.HAVE_CURRENT_DATA) return;
    const { videoWidth: width, videoHeight: height } = video;
    Object.assign(canvas, { width, height });
    sheet.drawImage(video, 0, 0);
    const pixels = sheet.getImageData(0, 0, width, height).data.buffer;
    worker.postMessage({ pixels, width, height, turn: turn++ }, [pixels]);
    busy = true;
  };
  const hire = () => {
    let began = false;
    busy = true;
    worker = new Worker("%scanner-worker%", { type: "module" });
    worker.onmessage = ({ data }) => {
      began = true;
      busy = false;
      if (data !== null) say("read", data);
      requestAnimationFrame(look);
    };
    // A frame that the reader cannot bear costs the reader, not the scan.
    worker.onerror = () => {
      worker.terminate();
      if (began) hire();
      else say("not loaded");
    };
  };
  hire();
  over.addEventListener("abort", () => worker.terminate());
  return look;
}
