// What every page has: its reader's texts and units, theme, copying.

function shown(x, digits = 4) {
  return String(Number(x.toPrecision(digits))).replace(".", READER.comma);
}

// A quantity in mm, N or MPa with the reader's unit: significant digits, or decimals.
function quantity(kind, x, digits, places) {
  const { factor, sign, offset = 0 } = READER.units[kind], value = x * factor + offset;
  const text = places === undefined ? shown(value, digits) : value.toFixed(places + READER.finer).replace(".", READER.comma);
  return sign ? text + (sign === "°" ? "" : " ") + sign : text;
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

// Without 3-D the picture is shown, and why.
function standIn() {
  root.classList.remove("has-view");
  at("no-view").hidden = false;
}

// A view that a page has made: it tells when it is drawn, and what stands in where it is lost.
function attend(view) {
  view.stage.drawn.push(() => { root.dataset.drawn = "yes"; });
  at("canvas").addEventListener("webglcontextlost", standIn);
  // for a page that builds on this one
  at("canvas").view = view;
}

// A page's own part.
function begin(start) {
  try { start(); } catch (error) { standIn(); }
}
