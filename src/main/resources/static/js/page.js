// Small things for every page: a form is sent once, and a refused form shows its first problem.
(function () {
  'use strict';
  document.addEventListener('submit', function (event) {
    const form = event.target;
    if (event.defaultPrevented || form.dataset.sent === 'yes') {
      if (form.dataset.sent === 'yes') { event.preventDefault(); }
      return;
    }
    if (!form.hasAttribute('hx-post') && form.method === 'post') { form.dataset.sent = 'yes'; }
  });
  // back button: the page comes from memory with the mark still on it
  window.addEventListener('pageshow', function () {
    document.querySelectorAll('form[data-sent]').forEach(function (form) { delete form.dataset.sent; });
  });
  // copying needs script, so its button is there only with script
  document.querySelectorAll('button[data-copy]').forEach(function (button) {
    if (!navigator.clipboard) { return; }
    button.hidden = false;
    button.addEventListener('click', function () {
      navigator.clipboard.writeText(document.querySelector(button.dataset.copy).value).then(function () {
        button.textContent = button.dataset.copied;
      });
    });
  });
  const problems = document.querySelector('.problems[role=alert]');
  if (problems) { problems.focus(); }
})();
