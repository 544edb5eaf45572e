"use strict";
// A video from disk, looked at frame by frame. Frame 0 is the first; `fps` is the rate of the file.

const SHOWN_MS = 200;

/** Steps `video` and tells `frame(number)` whenever another one is shown. */
function openVideo(video, tell) {
  let fps = 30, at = 0, wanted = null, busy = false;

  const last = () => Math.max(0, Math.round(video.duration * fps) - 1);

  /** Seeks into the middle of frame n, so that rounding cannot show its neighbour; gives the frame that is shown. */
  function seek(n) {
    return new Promise((resolve) => {
      const time = Math.min((n + 0.5) / fps, video.duration);
      let number = n, callback = null, sought = false, painted = !video.requestVideoFrameCallback;
      const done = () => { if (sought && painted) { clearTimeout(waiting); resolve(number); } };
      const waiting = setTimeout(() => { if (callback) video.cancelVideoFrameCallback(callback); painted = true; done(); }, SHOWN_MS);
      const look = () => {
        callback = video.requestVideoFrameCallback((now, {mediaTime}) => {
          // The frame before the jump may be painted late; the one that is meant is still to come.
          if (Math.abs(mediaTime - time) > 1 / fps) return look();
          number = Math.round(mediaTime * fps);
          painted = true;
          return done();
        });
      };
      if (!painted) look();
      video.addEventListener("seeked", () => { sought = true; done(); }, {once: true});
      video.currentTime = time;
    });
  }

  /** Goes to frame n; of several wishes while it is on its way, the last one counts. */
  async function goTo(n) {
    if (!Number.isFinite(video.duration)) return;
    wanted = Math.min(Math.max(Math.round(n), 0), last());
    if (busy) return;
    busy = true;
    while (wanted !== null) {
      at = wanted;
      wanted = null;
      const number = await seek(at);
      if (wanted === null) tell.frame(number, last());
    }
    busy = false;
  }

  video.addEventListener("loadedmetadata", () => { at = 0; goTo(0); });
  video.addEventListener("error", () => { if (video.getAttribute("src")) tell.failed(); });

  return {
    load(url) { video.src = url; },
    setRate(rate) {
      const time = at / fps;
      fps = rate;
      goTo(Math.floor(time * fps + 1e-6));
    },
    goTo,
    step: (by) => goTo((wanted ?? at) + by),
    /** The frame that is shown, as a PNG: {blob, size}. */
    async still() {
      const canvas = document.createElement("canvas");
      canvas.width = video.videoWidth;
      canvas.height = video.videoHeight;
      canvas.getContext("2d").drawImage(video, 0, 0);
      const blob = await new Promise((resolve) => canvas.toBlob(resolve, "image/png"));
      return {blob, size: [canvas.width, canvas.height]};
    },
  };
}
