// Ends as pictures to choose from, the maker's sheet, and files to save.
class Choices {
  constructor(desk) {
    Object.assign(this, { desk, side: "first", turn: 0 });
    for (const b of root.querySelectorAll("[data-side]")) b.addEventListener("click", () => this.face(b.dataset.side));
    at("show-styles").addEventListener("click", () => this.fetch());
    at("show-sheet").addEventListener("click", () => this.sheet());
    for (const b of root.querySelectorAll("[data-file]")) b.addEventListener("click", () => this.save(b));
  }

  face(side) {
    this.side = side;
    for (const b of root.querySelectorAll("[data-side]")) b.setAttribute("aria-pressed", b.dataset.side === side);
    if (this.shown) this.fetch();
  }

  // Ask for each style in turn; a newer round ends an older one.
  async fetch() {
    const { desk, side } = this, turn = ++this.turn, place = at("cards");
    this.shown = true;
    place.replaceChildren();
    for (const style of desk.start.styles) {
      const card = await desk.asker.ask("style", { side, style, load: desk.last(), changes: desk.changes });
      if (turn !== this.turn) return;
      place.append(this.card(card, side));
    }
  }

  card(card, side) {
    const chosen = this.desk.form.typed[`ends.${side}.style`] || this.desk.form.typed[`ends.${side}`], name = READER.groups["ends." + side].toLowerCase();
    const use = () => { this.desk.touched(`ends.${side}.style`, card.style, true); for (const b of at("cards").children) b.setAttribute("aria-pressed", b === node); };
    const image = card.picture && made("img", { src: addressOf(card.picture, "image/svg+xml"), alt: "", onload: (e) => URL.revokeObjectURL(e.target.src) });
    const facts = card.refused ? [made("span", { class: "bad small" }, card.refused[0].message)] : card.problem ? [made("span", { class: "bad small" }, card.problem)] : [
      made("span", { class: "small" }, said("hook", { length: quantity("length", card.hook_length, 3) })),
      made("span", { class: card.share > 1 ? "bad" : "" }, card.share === null ? said("noHook") : said("share", { share: shown(100 * card.share, 3), word: READER.words[card.share > 1 ? 2 : card.share >= READER.near ? 1 : 0] })),
    ];
    const node = made("button", { type: "button", class: "card", "data-style": card.style || null, "aria-pressed": chosen === card.style, disabled: Boolean(card.problem || card.refused), title: card.title ? said("choose", { title: card.title, end: name }) : null, onclick: use }, image || null, made("strong", {}, card.title || ""), ...facts);
    return node;
  }

  async sheet() {
    at("made").textContent = said("working");
    const answer = await this.desk.asker.ask("sheet", { changes: this.desk.changes });
    if (answer.stale) return;
    at("made").textContent = answer.refused ? answer.refused[0].message : "";
    if (!answer.svg) return;
    const image = made("img", { src: addressOf(answer.svg, "image/svg+xml"), alt: at("show-sheet").textContent, onload: (e) => URL.revokeObjectURL(e.target.src) });
    at("sheet").replaceChildren(image);
  }

  async save(button) {
    button.disabled = true;
    at("made").textContent = said("working");
    try {
      const answer = await this.desk.asker.ask("file", { kind: button.dataset.file, changes: this.desk.changes });
      if (answer.refused) { at("made").textContent = answer.refused[0].message; return; }
      const href = addressOf(bytes(answer.base64), "application/octet-stream");
      made("a", { href, download: answer.name }).click();
      setTimeout(() => URL.revokeObjectURL(href), 10000);
      at("made").textContent = said("ready", { name: answer.name });
    } finally {
      button.disabled = false;
    }
  }
}
