// Numbers as it was and what if, beside each other, with their difference; findings in words.
class Numbers {
  constructor(place) {
    Object.assign(this, { place, was: new Map(), now: new Map(), fresh: new Set() });
  }

  // New rows: those of one answer; `all` says that nothing else is known any more.
  take(name, rows, all) {
    const into = this[name];
    if (name === "now") this.fresh = new Set(all ? rows.map((r) => r.key) : [...this.fresh].filter(() => false));
    for (const row of rows) { into.set(row.key, row); if (name === "now") this.fresh.add(row.key); }
  }

  // Forget rows that the newest answers no longer have.
  only(name, keys) {
    for (const key of [...this[name].keys()]) if (!keys.has(key)) this[name].delete(key);
  }

  draw() {
    const groups = new Map();
    for (const row of [...this.now.values(), ...[...this.was.values()].filter((r) => !this.now.has(r.key))]) {
      if (!groups.has(row.group)) groups.set(row.group, []);
      groups.get(row.group).push(row);
    }
    const order = [...groups.keys()].sort((a, b) => rank(a) - rank(b) || a.localeCompare(b, "en", { numeric: true }));
    const body = made("tbody");
    for (const group of order) {
      body.append(made("tr", { class: "group" }, made("th", { scope: "rowgroup", colspan: 4 }, READER.texts[group] || group)));
      for (const row of groups.get(group)) body.append(this.row(row));
    }
    const head = ["quantity", "was", "now", "difference"].map((k) => made("th", { scope: "col" }, said(k)));
    this.place.replaceChildren(made("table", {}, made("thead", {}, made("tr", {}, ...head)), body));
  }

  row({ key, words, kind, way }) {
    const was = this.was.get(key), now = this.now.get(key), told = (r) => r ? bare(kind, r.value) : "–", { sign } = READER.units[kind];
    // what reads alike is alike: a difference that no figure shows is none
    const moved = was && now && told(was) !== told(now);
    return made("tr", { class: now && !this.fresh.has(key) ? "waiting" : null },
      made("th", { scope: "row" }, sign ? `${words}, ${sign}` : words, way ? made("span", { class: "way" }, way) : null),
      made("td", {}, told(was)), made("td", { class: moved ? "moved" : null }, told(now)), made("td", {}, moved ? signed(kind, now.value - was.value) : ""));
  }
}

function bare(kind, x) {
  const { factor, offset = 0 } = READER.units[kind];
  return shown(x * factor + offset, 4);
}

function rank(group) {
  return { shape: 0, load: 1, life: 3 }[group] ?? 2;
}

function signed(kind, x) {
  const { factor } = READER.units[kind];
  return (x > 0 ? "+" : "−") + shown(Math.abs(x * factor), 3);
}

function findingsShown(place, findings) {
  if (!findings.length) { place.replaceChildren(made("p", {}, said("nothing"))); return; }
  place.replaceChildren(made("ul", { class: "findings" }, ...findings.map((f) => made("li", { class: f.severity },
    made("strong", {}, READER.severities[f.severity] + ". "), f.subject ? made("em", {}, f.subject + ": ") : null, f.message + ". ", made("span", { class: "where" }, [f.field, f.code].filter(Boolean).join(", "))))));
}
