// Elements made in one line: a tag with its class, attributes, and what stands in it.
function made(tag, attributes = {}, ...inside) {
  const found = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (name.startsWith("on")) found.addEventListener(name.slice(2), value);
    else if (value !== false && value !== null && value !== undefined) found.setAttribute(name, value === true ? "" : value);
  }
  found.append(...inside.filter((x) => x !== null && x !== undefined));
  return found;
}

function drawn(tag, attributes = {}, ...inside) {
  const found = document.createElementNS("http://www.w3.org/2000/svg", tag);
  for (const [name, value] of Object.entries(attributes)) found.setAttribute(name, value);
  found.append(...inside);
  return found;
}

// Bytes that came as text, as an address for a picture or a file.
function addressOf(data, type) {
  return URL.createObjectURL(new Blob([data], { type }));
}
