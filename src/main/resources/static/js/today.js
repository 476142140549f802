// Addresses on the day's page. Links say geo:, which phones hand to the map application their owner has chosen; iOS knows no
// geo: and has maps: for the same. Where neither opens anything, as on most desks, the address can be copied.
(function () {
  'use strict';
  const ios = /iPhone|iPad|iPod/.test(navigator.userAgent) || (navigator.platform === 'MacIntel' && navigator.maxTouchPoints > 1);
  if (ios) {
    document.querySelectorAll('a.today-map').forEach(function (link) {
      link.setAttribute('href', 'maps:?q=' + encodeURIComponent(link.dataset.address));
    });
  }
  if (!navigator.clipboard) { return; } // no copying without a secure connection; the address can still be marked by hand
  document.querySelectorAll('button.today-copy').forEach(function (button) {
    const text = button.textContent;
    button.hidden = false;
    button.addEventListener('click', function () {
      navigator.clipboard.writeText(button.dataset.address).then(function () {
        button.textContent = button.dataset.done;
        setTimeout(function () { button.textContent = text; }, 2500);
      });
    });
  });
})();
