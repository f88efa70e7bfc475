/* Runs once per panel (`this` is its style element): Enter in a box does what the form's first
   button does, once the box has handed over its text; figures get a number pad on a tablet. */
const day = this.closest('.airlab-day');
if (day && !day.dataset.keyed) {
  day.dataset.keyed = 'yes';
  day.addEventListener('keydown', (event) => {
    const field = event.target, form = field.closest('.airlab-form');
    const typed = field.matches('input[type=text], select');
    if (event.key !== 'Enter' || !form || !typed || field.closest('.airlab-editor')) return;
    const button = form.querySelector('button.airlab-enter');
    if (!button) return;
    event.preventDefault();
    field.dispatchEvent(new Event('change', { bubbles: true }));
    setTimeout(() => button.click(), 60);
  }, true);
  for (const box of day.querySelectorAll('.airlab-big input, .airlab-number input')) {
    box.setAttribute('inputmode', 'decimal');
  }
}
