// Questions to the desk, and their answers. A page of a server asks by fetch; a widget brings its
// own way (window-less: a function given to `deskWith`).
const PAGE = Math.random().toString(36).slice(2, 12);

async function askServer(question) {
  const answer = await fetch("ask", {
    method: "POST", headers: { "content-type": "application/json" }, body: JSON.stringify(question),
  });
  if (!answer.ok) throw new Error((await answer.text()).slice(0, 200));
  return answer.json();
}

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
