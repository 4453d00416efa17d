// The page's own behaviour: theme, copying, and the controls of the view.
const root = document.documentElement, at = (id) => document.getElementById(id);

function shown(x, digits = 4) {
  return String(Number(x.toPrecision(digits)));
}

function dark() {
  if (root.dataset.theme) return root.dataset.theme === "dark";
  return matchMedia("(prefers-color-scheme: dark)").matches;
}

function nameTheme() {
  at("theme").textContent = dark() ? "Light" : "Dark";
  at("theme").setAttribute("aria-label", dark() ? "Use light colours" : "Use dark colours");
}

at("theme").addEventListener("click", () => {
  root.dataset.theme = dark() ? "light" : "dark";
  try { localStorage.setItem("report-theme", root.dataset.theme); } catch (e) { /* kept for this visit only */ }
  nameTheme();
});
matchMedia("(prefers-color-scheme: dark)").addEventListener("change", nameTheme);
nameTheme();

async function copy(text) {
  try {
    await navigator.clipboard.writeText(text);
    return true;
  } catch (e) {
    const box = document.createElement("textarea");
    box.value = text;
    document.body.append(box);
    box.select();
    const done = document.execCommand("copy");
    box.remove();
    return done;
  }
}

for (const button of document.querySelectorAll("[data-copy]")) {
  button.addEventListener("click", async () => {
    const done = await copy(at(button.dataset.copy).textContent);
    at("copied").textContent = done ? "Copied." : "Not copied: select the text and copy it by hand.";
  });
}

function start() {
  const data = JSON.parse(at("view-data").textContent), slider = at("load"), kind = at("kind");
  // shown before it is measured: a hidden canvas has no size
  root.classList.add("has-view");
  const view = new View(at("canvas"), at("tags"), data);
  let load = data.load, playing = 0;

  const lengthAt = (force) => Math.min(
    data.free + Math.max(0, force - data.tension) / data.rate, data.states[data.states.length - 1]);

  function show() {
    const length = lengthAt(load), most = view.show(load, length, kind.value);
    const words = `${shown(load, 3)} N, ${length.toFixed(2)} mm inside hooks, greatest ${data.kinds[kind.value].replace("greatest ", "")} ${shown(most, 3)} MPa`;
    at("reading").textContent = load > data.tension || !load ? words : words + " (below the initial tension: nothing moves)";
    slider.setAttribute("aria-valuetext", words);
    slider.value = data.load ? Math.round(1000 * load / data.load) : 0;
    const marker = at("load-marker").dataset;
    at("load-marker").setAttribute("cx", (+marker.x0 + marker.x1 * length).toFixed(2));
    at("load-marker").setAttribute("cy", (+marker.y0 + marker.y1 * load).toFixed(2));
    for (const b of document.querySelectorAll("[data-load]")) {
      b.setAttribute("aria-pressed", Math.abs(b.dataset.load - load) < 1e-9 * (data.load || 1));
    }
  }

  function scale() {
    const most = data.scale[kind.value];
    at("scale-name").textContent = `${data.kinds[kind.value]} stress, MPa`;
    at("scale-ticks").replaceChildren(...[0, 0.25, 0.5, 0.75, 1].map((k) => {
      const tick = document.createElement("span");
      tick.textContent = shown(k * most, 3);
      return tick;
    }));
  }

  function stop() {
    playing = 0;
    at("reading").setAttribute("aria-live", "polite");
    at("play").textContent = "Play";
    at("play").setAttribute("aria-pressed", "false");
  }

  function play(time) {
    if (!playing) return;
    // three seconds up, three down; in a few still steps where motion is unwelcome
    let share = 1 - Math.abs(((time - playing) / 3000) % 2 - 1);
    if (matchMedia("(prefers-reduced-motion: reduce)").matches) share = Math.round(4 * share) / 4;
    load = share * data.load;
    show();
    requestAnimationFrame(play);
  }

  slider.addEventListener("input", () => { stop(); load = slider.value / 1000 * data.load; show(); });
  kind.addEventListener("change", () => { scale(); show(); });
  for (const b of document.querySelectorAll("[data-load]")) {
    b.addEventListener("click", () => { stop(); load = Number(b.dataset.load); show(); });
  }
  for (const b of document.querySelectorAll("[data-view]")) {
    b.addEventListener("click", () => view.stage.look(b.dataset.view));
  }
  at("play").addEventListener("click", () => {
    if (playing) return stop();
    playing = performance.now();
    // a reader of the screen is told the end, not sixty times a second
    at("reading").setAttribute("aria-live", "off");
    at("play").textContent = "Stop";
    at("play").setAttribute("aria-pressed", "true");
    requestAnimationFrame(play);
  });
  at("cut").addEventListener("change", (e) => view.cut(e.target.checked));
  at("sizes").addEventListener("change", (e) => { view.lines.visible = e.target.checked; view.stage.ask(); });
  if (at("names")) at("names").addEventListener("change", (e) => { view.named = e.target.checked; view.stage.ask(); });
  if (at("parts")) at("parts").addEventListener("change", (e) => { view.parts.visible = e.target.checked; view.stage.ask(); });

  let wanted = null;
  at("canvas").addEventListener("pointermove", (e) => {
    if (wanted || e.buttons) return;
    wanted = requestAnimationFrame(() => { wanted = null; probe(e); });
  });
  at("canvas").addEventListener("click", probe);

  function probe(event) {
    const box = at("canvas").getBoundingClientRect(), ring = view.ring(event.clientX - box.left, event.clientY - box.top);
    if (ring === null) return;
    at("probe").textContent = `${data.labels[view.wire.piece[ring]]}, ${view.wire.arc[ring].toFixed(1)} mm from the cut end of A: `
      + `${data.kinds[kind.value]} ${shown(view.wire.at(ring, kind.value, load), 3)} MPa`;
  }

  scale();
  show();
  view.stage.drawn.push(() => { root.dataset.drawn = "yes"; });
}

try {
  start();
} catch (error) {
  root.classList.remove("has-view");
  at("no-view").hidden = false;
}
