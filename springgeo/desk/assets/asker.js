// Questions to the desk, and their answers.
const PAGE = Math.random().toString(36).slice(2, 12);

async function askServer(question) {
  const answer = await fetch("ask", {
    method: "POST", headers: { "content-type": "application/json" }, body: JSON.stringify(question),
  });
  if (!answer.ok) throw new Error((await answer.text()).slice(0, 200));
  return answer.json();
}

// In a notebook the page stands in a frame: the cell's own script hands questions to the kernel.
const asked = new Map();

function askParent(question) {
  const id = `${PAGE}-${asked.size}-${performance.now()}`;
  return new Promise((answered) => {
    asked.set(id, answered);
    parent.postMessage({ springgeo: id, question }, "*");
  });
}

addEventListener("message", (e) => {
  if (e.source !== parent || !e.data || !asked.has(e.data.springgeo)) return;
  asked.get(e.data.springgeo)(e.data.answer);
  asked.delete(e.data.springgeo);
});

class Asker {
  constructor(way) {
    this.way = way;
  }

  ask(what, more = {}) {
    return this.way({ what, page: PAGE, ...more });
  }
}

// Asks again and again while there is something new, one question at a time: what changes on the
// way is asked once the answer is there, so nothing piles up and the newest is never lost.
class Pump {
  constructor(run) {
    Object.assign(this, { run, wanted: false, busy: false });
  }

  async need() {
    this.wanted = true;
    if (this.busy) return;
    this.busy = true;
    try {
      while (this.wanted) {
        this.wanted = false;
        await this.run();
      }
    } finally {
      this.busy = false;
    }
  }
}
