// The page's own behaviour: theme, copying, and the controls of the view.
const root = document.documentElement, at = (id) => document.getElementById(id);

// The page's texts, units and decimal sign: those of its reader.
const READER = JSON.parse(at("view-data").textContent);

function shown(x, digits = 4) {
  return String(Number(x.toPrecision(digits))).replace(".", READER.comma);
}

// A quantity in mm, N or MPa with the reader's unit: significant digits, or decimals.
function quantity(kind, x, digits, places) {
  const { factor, sign } = READER.units[kind], value = x * factor;
  const text = places === undefined ? shown(value, digits) : value.toFixed(places + READER.finer).replace(".", READER.comma);
  return text + " " + sign;
}

// A text of the page with its gaps filled in.
function said(key, values = {}) {
  return READER.texts[key].replace(/\{(\w+)\}/g, (_, name) => values[name]);
}

function dark() {
  if (root.dataset.theme) return root.dataset.theme === "dark";
  return matchMedia("(prefers-color-scheme: dark)").matches;
}

function nameTheme() {
  at("theme").textContent = said(dark() ? "light" : "dark");
  at("theme").setAttribute("aria-label", said(dark() ? "useLight" : "useDark"));
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
    at("copied").textContent = said(done ? "copied" : "notCopied");
  });
}

function start() {
  const data = READER, slider = at("load"), kind = at("kind");
  // shown before it is measured: a hidden canvas has no size
  root.classList.add("has-view");
  const view = new View(at("canvas"), at("tags"), data);
  let load = data.load, playing = 0;

  // The points of the load curve on either side of a load: N, mm, N/mm, coils parted.
  function around(force) {
    const i = data.curve.findIndex((p) => p[0] > force), last = data.curve.length - 1;
    return i < 0 ? [data.curve[last], data.curve[last], 0] : [data.curve[i - 1], data.curve[i],
      (force - data.curve[i - 1][0]) / (data.curve[i][0] - data.curve[i - 1][0])];
  }

  // The cubic with the curve's own slopes, held so that it rises everywhere.
  function lengthAt(force) {
    const [p, q, t] = around(force), step = q[0] - p[0], rise = q[1] - p[1];
    const first = Math.min(step / p[2], 3 * rise), last = Math.min(step / q[2], 3 * rise);
    const cubic = t * (t - 1) * ((1 - t) * (rise - first) + t * (last - rise));
    return Math.min(p[1] + t * rise + cubic, data.states[data.states.length - 1]);
  }

  function parted(force) {
    const [p, q, t] = around(force);
    return Math.round(p[3] + t * (q[3] - p[3]));
  }

  // What decides at a ring, in words: which stress, MPa, and its share of the allowable.
  function told(ring) {
    const { wire } = view, part = wire.value(wire.use[kind.value], ring);
    const off = (k) => Math.abs(wire.value(wire.use[k], ring) - part);
    const which = kind.value === "judged" ? (off("shear") <= off("axial") ? "shear" : "axial") : kind.value;
    const word = data.words[part > 1 ? 2 : part >= data.near ? 1 : 0];
    return said("told", { kind: data.kinds[which], stress: quantity("stress", wire.value(wire.stress[which], ring), 3), share: shown(100 * part, 3), word });
  }

  function show() {
    const length = lengthAt(load);
    view.show(load, length, kind.value);
    const words = said("reading", { load: quantity("force", load, 3), length: quantity("length", length, 0, 2), told: told(view.wire.greatest(view.wire.use[kind.value])) });
    at("reading").textContent = data.coils ? said("parted", { reading: words, parted: parted(load), coils: Math.round(data.coils) }) : words;
    slider.setAttribute("aria-valuetext", words);
    slider.value = data.load ? Math.round(1000 * load / data.load) : 0;
    const marker = at("load-length-here").dataset;
    at("load-length-here").setAttribute("cx", (+marker.x0 + marker.x1 * length * data.units.length.factor).toFixed(2));
    at("load-length-here").setAttribute("cy", (+marker.y0 + marker.y1 * load * data.units.force.factor).toFixed(2));
    for (const b of document.querySelectorAll("[data-load]")) {
      b.setAttribute("aria-pressed", Math.abs(b.dataset.load - load) < 1e-9 * (data.load || 1));
    }
  }

  function stop() {
    playing = 0;
    at("reading").setAttribute("aria-live", "polite");
    at("play").textContent = said("play");
    at("play").setAttribute("aria-pressed", "false");
  }

  function play(time) {
    if (!playing) return;
    // three seconds up, three down; in a few still steps where motion is unwelcome
    let share = 1 - Math.abs((Math.max(time - playing, 0) / 3000) % 2 - 1);
    if (matchMedia("(prefers-reduced-motion: reduce)").matches) share = Math.round(4 * share) / 4;
    load = share * data.load;
    show();
    requestAnimationFrame(play);
  }

  slider.addEventListener("input", () => { stop(); load = slider.value / 1000 * data.load; show(); });
  kind.addEventListener("change", show);
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
    at("play").textContent = said("stop");
    at("play").setAttribute("aria-pressed", "true");
    requestAnimationFrame(play);
  });
  at("cut").addEventListener("change", (e) => { view.stage.cutting = e.target.checked; view.stage.ask(); });
  at("sizes").addEventListener("change", (e) => { view.measure.shown = e.target.checked; view.stage.ask(); });
  if (at("names")) at("names").addEventListener("change", (e) => { view.named = e.target.checked; view.stage.ask(); });
  if (at("parts")) at("parts").addEventListener("change", (e) => { for (const p of view.parts) p.shown = e.target.checked; view.stage.ask(); });

  let wanted = null;
  at("canvas").addEventListener("pointermove", (e) => {
    if (wanted || e.buttons) return;
    wanted = requestAnimationFrame(() => { wanted = null; probe(e); });
  });
  at("canvas").addEventListener("click", probe);

  function probe(event) {
    const box = at("canvas").getBoundingClientRect(), { wire } = view;
    const ring = wire.ring(event.clientX - box.left, event.clientY - box.top);
    if (ring === null) return;
    at("probe").textContent = said("probe", {
      piece: data.labels[wire.piece[ring]], s: quantity("length", wire.arc[ring], 0, 1), told: told(ring),
      mises: quantity("stress", wire.value(wire.stress.von_mises, ring), 3),
    });
  }

  show();
  view.stage.drawn.push(() => { root.dataset.drawn = "yes"; });
  at("canvas").addEventListener("webglcontextlost", standIn);
  // for a page that builds on this one
  at("canvas").view = view;
}

// Without 3-D the picture is shown, and why.
function standIn() {
  root.classList.remove("has-view");
  at("no-view").hidden = false;
}

try {
  start();
} catch (error) {
  standIn();
}
