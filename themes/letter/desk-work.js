(() => {
  const EVERY = 300, came = document.getElementById("came"), ask = document.getElementById("unlock");
  const post = (path, body) => fetch(work.base + path, { method: "POST", body: JSON.stringify(body) });

  // the part of the page that says how far it is, until the job is done
  async function follow() {
    if (!came) return;
    try {
      const now = await (await fetch(work.base + "/publishing/now")).json();
      came.innerHTML = now.html;
      came.setAttribute("aria-busy", now.running);
      for (const button of document.querySelectorAll("[data-start]")) button.disabled = now.running;
      if (now.running) setTimeout(follow, EVERY);
    } catch {
      complain(work.lost);
      setTimeout(follow, 1000);
    }
  }

  function complain(says) {
    const place = came || document.getElementById("says");
    const line = Object.assign(document.createElement("p"), { className: "says", textContent: says });
    line.setAttribute("role", "alert");
    place.hidden = false;
    place.replaceChildren(line);
  }

  document.addEventListener("click", async (event) => {
    const button = event.target.closest("button");
    if (!button) return;
    if ("stop" in button.dataset) { await post("/publishing/stop", {}); return; }
    if ("doubt" in button.dataset) {
      const answer = await post("/publishing/doubt", JSON.parse(button.dataset.doubt)).catch(() => null);
      if (answer?.ok) follow(); else complain((await answer?.json().catch(() => null))?.says || work.lost);
      return;
    }
    if (!button.dataset.start) return;
    const asked = JSON.parse(button.dataset.start);
    const by = document.querySelector("[name=by]:checked"), correction = document.getElementById("correction");
    if (asked.what === "send" && by) Object.assign(asked, { by: by.value, correction: correction.checked });
    try {
      const answer = await post("/publishing/start", asked);
      if (!answer.ok) { complain((await answer.json().catch(() => ({}))).says || work.lost); return; }
    } catch { complain(work.lost); return; }
    if (button.dataset.then) location.assign(button.dataset.then);
    else {
      if (button.dataset.after) button.textContent = button.dataset.after;
      came.scrollIntoView({ block: "nearest" });
      follow();
    }
  });

  if (ask) ask.addEventListener("submit", async (event) => {
    event.preventDefault();
    const field = document.getElementById("word"), says = document.getElementById("unlock-says");
    const answer = await post("/publishing/word", { word: field.value });
    field.value = "";
    if (answer.ok) { ask.remove(); return; }
    says.textContent = (await answer.json().catch(() => ({}))).says || work.lost;
    says.hidden = false;
    field.focus();
  });

  if (work.running) follow();
})();
