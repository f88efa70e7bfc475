/* Runs once per panel on the page (`this` is its style element): gives sliders, radio groups and
   the projector view what the widgets leave out. Without it the panel still works. */
const panel = this.closest('.airlab-panel');
if (panel && !panel.dataset.named) {
  panel.dataset.named = 'yes';
  const words = (box) => (box.querySelector('label') || box).textContent.trim();
  const set = (element, name, value) => {
    if (element && element.getAttribute(name) !== value) element.setAttribute(name, value);
  };
  const choices = (group) => [...group.querySelectorAll('input[type=radio]')];
  // Wherever the focus is: a click on the picture leaves it on the page.
  const leave = (event) => {
    if (!panel.isConnected) document.removeEventListener('keydown', leave, true);
    else if (event.key === 'Escape') panel.querySelector('button.airlab-back')?.click();
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
      group.dataset.choices ||= `airlab-choice-${Math.random().toString(36).slice(2)}`;
      for (const one of choices(group)) set(one, 'name', group.dataset.choices);
    }
    const big = panel.classList.contains('airlab-projector');
    if (!panel.showPopover) return;
    const shown = document.querySelector('.airlab-panel:popover-open');
    if (big && !shown) {
      panel.popover = 'manual';
      panel.showPopover();
      document.addEventListener('keydown', leave, true);
    }
    if (!big && shown === panel) {
      panel.hidePopover();
      panel.removeAttribute('popover');
      document.removeEventListener('keydown', leave, true);
    }
  };
  panel.addEventListener('keydown', (event) => {
    // Arrows move within a group of choices, as everywhere; the lab would take them for itself.
    const step = { ArrowDown: 1, ArrowRight: 1, ArrowUp: -1, ArrowLeft: -1 }[event.key];
    const group = step && event.target.type === 'radio' && event.target.closest('.widget-radio');
    if (group) {
      event.preventDefault();
      event.stopPropagation();
      const all = choices(group);
      const next = all[(all.indexOf(event.target) + step + all.length) % all.length];
      next.focus();
      next.click();
    }
    // In a drop-down list they choose too: kept from the lab, left to the browser.
    if (step && event.target.tagName === 'SELECT') event.stopPropagation();
  });
  new MutationObserver(tend).observe(panel, {
    subtree: true, childList: true, characterData: true,
    attributes: true, attributeFilter: ['class', 'aria-valuenow'],
  });
  tend();
}
