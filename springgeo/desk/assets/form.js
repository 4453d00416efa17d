// The specification as a form: a text for every field, a slider where a value varies continuously.
const NUMBER = /^\s*([-+]?(?:\d+[.,]?\d*|[.,]\d+)(?:[eE][-+]?\d+)?)\s*(\S.*)?$/;

class Form {
  // `touched(key, text, done)` is called for every change; `done` when the hand lets go.
  constructor(place, start, touched) {
    Object.assign(this, { place, touched, ends: start.ends, nodes: new Map(), groups: new Map(), typed: {}, limits: {} });
    for (const key of ["wire", "body", "ends.first", "ends.second", "ends", "service", "mating", "making", "drawing", "general"]) this.group(key);
    for (const field of start.fields) this.add(field);
  }

  group(key) {
    const given = made("div"), rest = made("div"), count = made("summary"), more = made("details", {}, count, rest);
    const box = made("fieldset", {}, made("legend", {}, READER.groups[key]), given, more);
    this.groups.set(key, { box, given, rest, more, count, fields: [] });
    this.place.append(box);
  }

  groupOf(key) {
    const [first, second] = key.split(".");
    if (first === "ends" && (second === "first" || second === "second")) return `ends.${second}`;
    return this.groups.has(first) && second ? first : "general";
  }

  add(field) {
    const id = "f-" + field.key.replaceAll(".", "-"), group = this.groups.get(this.groupOf(field.key));
    const words = field.words.includes(", ") && !field.key.startsWith("mating") ? field.words.split(", ").slice(1).join(", ") : field.words;
    const hint = made("div", { class: "hint", id: id + "-h" }), wrong = made("div", { class: "wrong", id: id + "-w" });
    const input = this.input(field, id);
    const node = made("div", { class: "field" }, made("label", { for: id }, words), input, hint, wrong);
    const entry = { field, node, input, hint, wrong, words };
    input.setAttribute("aria-describedby", `${id}-h ${id}-w`);
    if (field.slides) {
      entry.slider = made("input", { type: "range", "aria-label": said("slider", { words: field.words }), oninput: () => this.slid(entry, false), onchange: () => this.slid(entry, true) });
      hint.before(entry.slider);
    }
    this.nodes.set(field.key, entry);
    group.fields.push(entry);
  }

  input(field, id) {
    const done = () => this.touched(field.key, input.value, true);
    let input;
    if (field.kind === "choice" || field.kind === "flag") {
      const choices = field.kind === "flag" ? ["true", "false"] : field.choices;
      input = made("select", { id, onchange: done }, ...["", ...choices].map((c) => made("option", { value: c }, c)));
      return input;
    }
    input = made("input", { type: "text", id, autocomplete: "off", spellcheck: "false", oninput: () => this.touched(field.key, input.value, false), onchange: done });
    if (field.known) {
      input.setAttribute("list", id + "-k");
      this.place.append(made("datalist", { id: id + "-k" }, ...field.known.map((k) => made("option", { value: k }))));
    }
    return input;
  }

  // The parameters of a style, in place of those of the style before.
  style(side, name) {
    const key = `ends.${side}`, group = this.groups.get(key);
    if (group.style === name) return;
    group.style = name;
    for (const entry of group.fields.filter((e) => e.parameter)) { entry.node.remove(); this.nodes.delete(entry.field.key); }
    group.fields = group.fields.filter((e) => !e.parameter);
    for (const field of this.ends[name] || []) {
      this.add({ ...field, key: `${key}.${field.key}` });
      group.fields[group.fields.length - 1].parameter = true;
    }
  }

  // Show the values of the file; what is on the way stays as it was typed.
  fill(values, pending) {
    this.typed = { ...values, ...pending };
    for (const side of ["first", "second"]) this.style(side, this.typed[`ends.${side}.style`] || this.typed[`ends.${side}`] || "");
    for (const [key, entry] of this.nodes) {
      let value = this.typed[key] ?? "";
      if (/^ends\.(first|second)\.style$/.test(key)) value = value || this.typed[key.replace(".style", "")] || "";
      if (entry.input.tagName === "SELECT" && value && ![...entry.input.options].some((o) => o.value === value)) entry.input.append(made("option", { value }, value));
      if (entry.input.value !== value && !(key in pending)) entry.input.value = value;
      entry.node.classList.toggle("pending", key in pending);
      this.slide(entry);
    }
    for (const { box, given, rest, more, count, fields } of this.groups.values()) {
      let left = 0;
      for (const { field, node, input } of fields) {
        const home = input.value !== "" || node.contains(document.activeElement) && node.parentNode === given ? given : rest;
        if (home === rest) left++;
        if (node.parentNode !== home) home.append(node);
      }
      more.hidden = !left;
      count.textContent = said("more", { count: left });
      box.hidden = !fields.length;
    }
  }

  // Limits, in inside units, that follow from other values.
  bounds(limits) {
    this.limits = limits;
    for (const entry of this.nodes.values()) this.hint(entry);
  }

  limit({ key, low, high }) {
    return this.limits[key] || (low === undefined ? null : [low, high]);
  }

  hint(entry) {
    const limit = this.limit(entry.field), kind = entry.field.of || entry.field.kind;
    if (!limit || !READER.units[kind]) return;
    const [low, high] = limit.map((x) => quantity(kind, x, 3));
    entry.hint.textContent = limit[1] >= 1e6 || limit[1] > 1e5 * Math.max(limit[0], 1) ? said("from", { low }) : said("limits", { low, high });
  }

  // Put a slider about the value that is typed: half to twice of it, within the limits.
  slide(entry) {
    if (!entry.slider) return;
    const met = NUMBER.exec(entry.input.value), held = document.activeElement === entry.slider;
    entry.slider.hidden = !met || /^[a-z]*(wg|ga\.?|gauge|gage)$/i.test(met[2] || "");
    if (entry.slider.hidden) return;
    const x = Number(met[1].replace(",", ".")), [low, high] = this.reach(entry, x, met[2]);
    entry.unit = met[2] || "";
    entry.comma = met[1].includes(",");
    if (!held || x < Number(entry.slider.min) || x > Number(entry.slider.max)) {
      entry.step = 10 ** Math.floor(Math.log10((high - low) / 150));
      Object.assign(entry.slider, { step: entry.step, min: Math.ceil(low / entry.step) * entry.step, max: high });
    }
    entry.slider.value = x;
    entry.slider.setAttribute("aria-valuetext", entry.input.value);
  }

  reach({ field }, x, unit) {
    let [low, high] = x > 0 ? [x / 2, 2 * x] : x < 0 ? [2 * x, x / 2] : [0, { force: 10, length: 5, stress: 100, angle: 360, temperature: 100 }[field.kind] || 10];
    if (field.kind === "angle") [low, high] = unit === "rad" ? [0, 2 * Math.PI] : unit === "turn" ? [0, 1] : [0, 360];
    if (field.kind === "temperature") [low, high] = [x - 60, x + 120];
    const limit = this.limit(field), factor = (field.units || {})[unit || ""] || (unit ? null : 1);
    if (limit && factor && field.kind !== "temperature") {
      const [a, b] = limit.map((v) => v / factor);
      if (a < b && x >= a && x <= b) [low, high] = [Math.max(low, a), Math.min(high, b)];
    }
    return high > low ? [low, high] : [x, x + 1];
  }

  slid(entry, done) {
    const digits = Math.max(0, -Math.floor(Math.log10(entry.step) + 1e-9));
    const number = Number(Number(entry.slider.value).toFixed(digits)).toString();
    const text = (entry.comma ? number.replace(".", ",") : number) + (entry.unit ? " " + entry.unit : "");
    entry.input.value = text;
    entry.slider.setAttribute("aria-valuetext", text);
    this.touched(entry.field.key, text, done);
  }

  // Say what is wrong beside the field it is about; return what belongs to none.
  refuse(findings) {
    for (const { input, wrong } of this.nodes.values()) { wrong.textContent = ""; input.removeAttribute("aria-invalid"); }
    return findings.filter((f) => {
      const key = [...this.nodes.keys()].find((k) => k === f.field || k === f.field + ".style") || [...this.nodes.keys()].find((k) => f.field.startsWith(k + "."));
      const entry = this.nodes.get(key);
      if (!entry) return true;
      entry.wrong.textContent = f.message;
      entry.input.setAttribute("aria-invalid", "true");
      const details = entry.node.closest("details");
      if (details) details.open = true;
      return false;
    });
  }
}
