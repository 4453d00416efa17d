// The report's own behaviour: the controls of its view.
function start() {
  const data = READER, slider = at("load"), kind = at("kind");
  // shown before it is measured: a hidden canvas has no size
  root.classList.add("has-view");
  const view = new View(at("canvas"), at("tags"), data);
  let load = data.load, playing = 0;

  const line = new LoadCurve(data.curve, data.states[data.states.length - 1]);

  // What decides at a ring, in words: which stress, MPa, and its share of the allowable.
  function told(ring) {
    const { wire } = view, part = wire.value(wire.use[kind.value], ring);
    const off = (k) => Math.abs(wire.value(wire.use[k], ring) - part);
    const which = kind.value === "judged" ? (off("shear") <= off("axial") ? "shear" : "axial") : kind.value;
    const word = data.words[part > 1 ? 2 : part >= data.near ? 1 : 0];
    return said("told", { kind: data.kinds[which], stress: quantity("stress", wire.value(wire.stress[which], ring), 3), share: shown(100 * part, 3), word });
  }

  function show() {
    const length = line.length(load);
    view.show(load, length, kind.value);
    const words = said("reading", { load: quantity("force", load, 3), length: quantity("length", length, 0, 2), told: told(view.wire.greatest(view.wire.use[kind.value])) });
    at("reading").textContent = data.coils ? said("parted", { reading: words, parted: line.parted(load), coils: Math.round(data.coils) }) : words;
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
  attend(view);
}

begin(start);
