// Where the page's things are, and its reader's texts, units and decimal sign.
const root = document.documentElement, at = (id) => document.getElementById(id);
const READER = JSON.parse(at("view-data").textContent);
