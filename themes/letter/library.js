"use strict";
// The drill library: search as you type, and what is new since the last visit. What was seen is kept in this browser
// alone, as marks that say nothing about a drill.

const VISIT_HOURS = 6;
const SEEN = "reportgen library";

// `root` is what the index stands in; where there is none, nothing happens.
function liven(root) {
  const sought = root.querySelector("#sought");
  if (!sought) return;
  const says = JSON.parse(root.querySelector("#words").textContent);
  const drills = [...root.querySelectorAll("[data-mark]")];
  root.querySelector("#search").hidden = false;
  sought.addEventListener("input", () => {
    const words = sought.value.toLowerCase().split(/\s+/).filter(Boolean);
    const found = drills.filter((drill) => {
      const fits = words.every((word) => drill.dataset.words.includes(word));
      drill.hidden = !fits;
      return fits;
    });
    root.querySelector("#purposes").hidden = words.length > 0;
    root.querySelector("#found").textContent = words.length ? says.found.replace("{count}", found.length) : "";
  });
  showNew(drills, says.fresh);
}

// A visit lasts some hours: what was new at its beginning stays new until it ends.
function showNew(drills, fresh) {
  let kept = null;
  try {
    kept = JSON.parse(localStorage.getItem(SEEN));
  } catch {
    // nothing is kept in this browser
  }
  const now = Date.now();
  const sameVisit = kept && now - kept.at < VISIT_HOURS * 3600e3;
  const before = sameVisit ? kept.before : kept?.seen;
  const marks = drills.map((drill) => drill.dataset.mark);
  try {
    localStorage.setItem(SEEN, JSON.stringify({ at: sameVisit ? kept.at : now, before: before ?? marks, seen: marks }));
  } catch {
    // nor can anything be
  }
  if (!Array.isArray(before)) return;
  for (const drill of drills.filter((one) => !before.includes(one.dataset.mark))) {
    const pill = document.createElement("span");
    pill.className = "pill";
    pill.textContent = fresh;
    drill.querySelector("a").after(" ", pill);
  }
}

liven(document);
