// Runs before the page is painted, so that a chosen display does not flash. A device that
// refuses storage keeps the automatic one.
try {
  const scheme = localStorage.getItem('hb:scheme');
  if (scheme) document.documentElement.dataset.hbScheme = scheme;
} catch {
  // Storage is refused: see above.
}
