// The desk in a cell: a frame with the page, and the way of its questions to the kernel and back.
function render({ model, el }) {
  const frame = document.createElement("iframe");
  frame.title = "springgeo";
  frame.srcdoc = model.get("document");
  Object.assign(frame.style, { width: "100%", height: "860px", border: "1px solid #8886" });
  const ask = (e) => {
    if (e.source === frame.contentWindow && e.data && e.data.springgeo) model.send(e.data);
  };
  const answer = (message) => frame.contentWindow && frame.contentWindow.postMessage(message, "*");
  window.addEventListener("message", ask);
  model.on("msg:custom", answer);
  el.append(frame);
  return () => {
    window.removeEventListener("message", ask);
    model.off("msg:custom", answer);
  };
}

export default { render };
