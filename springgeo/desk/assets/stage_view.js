// The spring on the stage: the newest shape, the one it was through it, and what is read off it.
class Shown3D {
  constructor() {
    root.classList.add("has-view");
    this.kind = "judged";
  }

  get ready() {
    return Boolean(this.view);
  }

  take(answer) {
    if (!this.view) {
      this.view = new View(at("canvas"), at("tags"), answer.view);
      this.view.stage.drawn.push(() => { root.dataset.drawn = "yes"; });
      at("canvas").addEventListener("webglcontextlost", standIn);
      at("canvas").view = this.view;
    } else this.view.take(answer.view);
    this.answer = answer;
    this.show();
  }

  show() {
    const { load, length, rough } = this.answer;
    this.view.stage.rough = Boolean(rough);
    this.view.show(load, length, this.kind);
  }

  ghost(answer) {
    if (!this.view || this.haunted === answer) return;
    this.haunted = answer;
    if (answer) this.view.haunt(answer.view, answer.length);
    else this.view.haunt(null);
  }

  // What decides where the wire is stressed most, in words.
  told() {
    const { wire, data } = this.view, ring = wire.greatest(wire.use[this.kind]), part = wire.value(wire.use[this.kind], ring);
    const off = (k) => Math.abs(wire.value(wire.use[k], ring) - part);
    const which = this.kind === "judged" ? (off("shear") <= off("axial") ? "shear" : "axial") : this.kind;
    const word = READER.words[part > 1 ? 2 : part >= READER.near ? 1 : 0];
    return said("told", { kind: READER.kinds[which], stress: quantity("stress", wire.value(wire.stress[which], ring), 3), share: shown(100 * part, 3), word });
  }

  reading() {
    const { load, length, way } = this.answer;
    return said(way || "here", { load: quantity("force", load, 3), length: quantity("length", length, 0, 2), told: this.told() });
  }
}
