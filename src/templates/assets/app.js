// Says so when the network fails, and looks after the focus when the element that had it was swapped away.
(() => {
  const network = document.getElementById('network');
  let inAnswer = false;
  document.addEventListener('htmx:before:request', (event) => {
    const source = event.detail?.ctx?.sourceElement;
    inAnswer = source instanceof Element && source.matches('#answer button');
  });
  document.addEventListener('htmx:after:swap', () => {
    network.textContent = '';
    for (const about of document.querySelectorAll('.about')) {
      const field = document.getElementById(about.id.replace(/-about$/, ''));
      if (field?.matches('input'))
        field.setAttribute('aria-invalid', String(about.querySelector('.field-error') !== null));
    }
    if (inAnswer && (document.activeElement === null || document.activeElement === document.body)) {
      document.getElementById('answer')?.focus({ preventScroll: true });
      document.getElementById('answer')?.scrollIntoView({ block: 'start' });
    }
    inAnswer = false;
  });
  document.addEventListener('htmx:error', () => {
    network.textContent =
      'The server did not answer, so what stands here is not up to date. What you ticked is kept: try again in a moment.';
  });
})();

// Keys for pages that are stepped through: an element names the keys that press it.
document.addEventListener('keydown', (event) => {
  const busy =
    event.target instanceof Element && event.target.closest('input, select, textarea, [tabindex="0"]');
  if (busy || event.ctrlKey || event.altKey || event.metaKey || event.shiftKey) return;
  document.querySelector(`[data-key~="${CSS.escape(event.key)}"]`)?.click();
});
