// The comparison: one spring solid, the others through it, all under one load.
function start() {
  const { springs, inks } = READER, slider = at("load");
  root.classList.add("has-view");
  const most = Math.max(...springs.map((s) => s.load)), lines = springs.map((s) => new LoadCurve(s.curve, s.states[s.states.length - 1]));
  const view = new View(at("canvas"), at("tags"), springs[0]);
  view.named = false;
  let load = most, solid = 0;

  function show() {
    const lengths = lines.map((line, i) => line.length(Math.min(load, springs[i].load)));
    view.show(Math.min(load, springs[solid].load), lengths[solid], "judged");
    view.wire.tone = inks[solid];
    view.wire.painted = false;
    view.haunted(springs.flatMap((data, i) => i === solid ? [] : [{ data, length: lengths[i], tone: inks[i] }]));
    const each = springs.map((s, i) => said("each", { name: s.name, length: quantity("length", lengths[i], 0, 2) }));
    const words = [quantity("force", load, 3), ...each].join("; ");
    at("reading").textContent = words;
    slider.setAttribute("aria-valuetext", words);
    for (const b of document.querySelectorAll("[data-solid]")) b.setAttribute("aria-pressed", Number(b.dataset.solid) === solid);
  }

  slider.addEventListener("input", () => { load = slider.value / 1000 * most; show(); });
  for (const b of document.querySelectorAll("[data-solid]")) {
    b.addEventListener("click", () => { solid = Number(b.dataset.solid); view.take(springs[solid]); show(); });
  }
  at("cut").addEventListener("change", (e) => { view.stage.cutting = e.target.checked; view.stage.ask(); });
  // every spring in the picture
  const low = [0, 1, 2].map((c) => Math.min(...springs.map((s) => s.box[0][c]))), high = [0, 1, 2].map((c) => Math.max(...springs.map((s) => s.box[1][c])));
  view.stage.camera.cover = [...view.stage.camera.cover, ...[low, high].map((p) => [p, 0])];
  show();
  view.frame();
  attend(view);
}

begin(start);
