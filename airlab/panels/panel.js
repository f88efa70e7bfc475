/* Runs once per panel on the page (`this` is its style element): gives sliders, radio groups and
   the projector view what the widgets leave out. Without it the panel still works. */
const panel = this.closest('.airlab-panel');
if (panel && !panel.dataset.named) {
  panel.dataset.named = 'yes';
  const words = (box) => (box.querySelector('label') || box).textContent.trim();
  const set = (element, name, value) => {
    if (element && element.getAttribute(name) !== value) element.setAttribute(name, value);
  };
  const tend = () => {
    set(panel, 'role', 'group');
    set(panel, 'aria-label', (panel.querySelector('.airlab-title') || panel).textContent.trim());
    for (const dial of panel.querySelectorAll('.airlab-dial')) {
      const handle = dial.querySelector('[role=slider]');
      const readout = dial.querySelector('.widget-readout');
      set(handle, 'aria-label', words(dial));
      if (readout) set(handle, 'aria-valuetext', readout.textContent.trim());
    }
    for (const group of panel.querySelectorAll('.widget-radio')) {
      set(group, 'role', 'radiogroup');
      set(group, 'aria-label', words(group));
    }
    const big = panel.classList.contains('airlab-projector');
    if (!panel.showPopover) return;
    const shown = document.querySelector('.airlab-panel:popover-open');
    if (big && !shown) { panel.popover = 'manual'; panel.showPopover(); }
    if (!big && shown === panel) { panel.hidePopover(); panel.removeAttribute('popover'); }
  };
  panel.addEventListener('keydown', (event) => {
    if (event.key === 'Escape' && panel.classList.contains('airlab-projector')) {
      const back = panel.querySelector('button.airlab-back');
      if (back) back.click();
    }
  });
  new MutationObserver(tend).observe(panel, {
    subtree: true, childList: true, characterData: true,
    attributes: true, attributeFilter: ['class', 'aria-valuenow'],
  });
  tend();
}
