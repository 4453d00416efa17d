// Runs before the first paint: marks that scripts run, and keeps the reader's choice of theme.
(function () {
  var root = document.documentElement;
  root.classList.add("js");
  var kept = null;
  try { kept = localStorage.getItem("report-theme"); } catch (e) { /* no storage: follow the system */ }
  if (kept === "dark" || kept === "light") root.dataset.theme = kept;
})();
