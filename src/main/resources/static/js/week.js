// The week's board: stops are dragged with mouse, pen or finger, and the arrows work without leaving the page.
// Without this script the arrows are plain buttons and every stop has a page of its own with a form.
(function () {
  'use strict';
  const FAR_ENOUGH = 6; // pixels before a press becomes a drag, so that a click stays a click
  const EDGE = 60; // pixels from the window's edge within which it scrolls
  let drag = null;

  function board() { return document.getElementById('week-board'); }

  function token() {
    const headers = document.body.getAttribute('hx-headers');
    return headers ? JSON.parse(headers)['X-CSRF-TOKEN'] : '';
  }

  function showNotice(text, refused) {
    const notice = board().querySelector('.week-notice');
    notice.className = 'week-notice ' + (refused ? 'problems' : 'notice');
    notice.textContent = text;
  }

  // Sends a move; whether it was done or refused, the answer is the board as it is now.
  function send(to, focus) {
    const before = board();
    before.setAttribute('aria-busy', 'true');
    const body = new URLSearchParams({ to: to, from: before.dataset.from });
    fetch(document.getElementById('week-nudge').action, {
      method: 'POST', body: body, headers: { 'X-CSRF-TOKEN': token(), 'HX-Request': 'true' }
    }).then(function (answer) {
      if (answer.headers.get('HX-Redirect')) { location.href = answer.headers.get('HX-Redirect'); return; }
      if (answer.status === 404) { location.reload(); return; }
      if (!answer.ok && answer.status !== 409) { throw new Error('status ' + answer.status); }
      return answer.text().then(function (html) {
        const next = new DOMParser().parseFromString(html, 'text/html').getElementById('week-board');
        // the message goes in afterwards, or a screen reader does not read it
        const notice = next.querySelector('.week-notice');
        const text = notice.textContent;
        notice.textContent = '';
        before.replaceWith(next);
        notice.textContent = text;
        refocus(focus);
      });
    }).catch(function () {
      before.removeAttribute('aria-busy');
      showNotice(before.dataset.failed, true);
    });
  }

  function refocus(focus) {
    const stop = focus && document.getElementById('stop-' + focus.stop);
    if (!stop) { return; }
    const wanted = focus.way && stop.querySelector('button[data-way=' + focus.way + ']:not([disabled])');
    (wanted || stop.querySelector('button:not([disabled])') || stop.querySelector('a')).focus();
  }

  document.addEventListener('submit', function (event) {
    if (event.target.id !== 'week-nudge' || !event.submitter) { return; }
    event.preventDefault();
    if (board().getAttribute('aria-busy') !== 'true') {
      send(event.submitter.value, { stop: event.submitter.closest('.week-stop').dataset.stop, way: event.submitter.dataset.way });
    }
  }, true);

  document.addEventListener('pointerdown', function (event) {
    const stop = event.target.closest('#week-board [data-stop]');
    if (!stop || event.button !== 0 || drag || event.target.closest('button')) { return; }
    // a finger on the name scrolls the page; it drags by the grip, which does not scroll
    if (event.pointerType === 'touch' && !event.target.closest('.week-grip')) { return; }
    drag = { stop: stop, x: event.clientX, y: event.clientY, pointer: event.pointerId, started: false };
  });

  document.addEventListener('dragstart', function (event) {
    if (event.target.closest && event.target.closest('#week-board')) { event.preventDefault(); }
  });

  document.addEventListener('pointermove', function (event) {
    if (!drag || event.pointerId !== drag.pointer) { return; }
    if (!drag.started) {
      if (Math.hypot(event.clientX - drag.x, event.clientY - drag.y) < FAR_ENOUGH) { return; }
      start();
    }
    event.preventDefault();
    drag.ghost.style.transform = 'translate(' + (event.clientX + 8) + 'px,' + (event.clientY + 8) + 'px)';
    if (event.clientY < EDGE) { window.scrollBy(0, -12); }
    if (event.clientY > window.innerHeight - EDGE) { window.scrollBy(0, 12); }
    over(event.clientX, event.clientY);
  }, { passive: false });

  function start() {
    drag.started = true;
    window.getSelection().removeAllRanges();
    drag.ghost = drag.stop.cloneNode(true);
    drag.ghost.removeAttribute('id');
    drag.ghost.className += ' week-ghost';
    drag.ghost.setAttribute('aria-hidden', 'true');
    drag.ghost.style.width = drag.stop.offsetWidth + 'px';
    document.body.appendChild(drag.ghost);
    drag.mark = document.createElement('li');
    drag.mark.className = 'week-mark';
    drag.stop.classList.add('week-dragged');
    document.body.classList.add('week-dragging');
  }

  // Puts the mark where the stop would go.
  function over(x, y) {
    const below = document.elementFromPoint(x, y);
    const cell = below && below.closest('.week-cell');
    if (!cell || (!cell.dataset.active && cell !== drag.stop.closest('.week-cell'))) {
      drag.mark.remove();
      return;
    }
    const list = cell.querySelector('.week-stops');
    const after = Array.from(list.querySelectorAll('.week-stop')).find(function (stop) {
      const box = stop.getBoundingClientRect();
      return stop !== drag.stop && y < box.top + box.height / 2;
    });
    list.insertBefore(drag.mark, after || null);
  }

  document.addEventListener('pointerup', function (event) {
    if (!drag || event.pointerId !== drag.pointer) { return; }
    const done = end();
    if (!done.started) { return; }
    // the click that follows a drag must not open the stop
    const swallow = function (click) { click.preventDefault(); click.stopPropagation(); };
    document.addEventListener('click', swallow, { capture: true, once: true });
    setTimeout(function () { document.removeEventListener('click', swallow, { capture: true }); }, 0);
    if (done.place && done.moved) {
      send([done.stop.dataset.stop, done.stop.dataset.version, done.cell.dataset.technician, done.cell.dataset.day, done.place].join(','),
        { stop: done.stop.dataset.stop });
    }
  });

  // Takes the drawing of a drag away and says where it ended: the place counts the other stops before the mark.
  function end() {
    const ended = { started: drag.started, stop: drag.stop };
    if (drag.started) {
      const list = drag.mark.parentElement;
      if (list) {
        const order = Array.from(list.children).filter(function (each) { return each !== drag.stop; });
        ended.cell = list.closest('.week-cell');
        ended.place = order.indexOf(drag.mark) + 1;
        const home = Array.from(drag.stop.parentElement.querySelectorAll('.week-stop')).indexOf(drag.stop) + 1;
        ended.moved = list !== drag.stop.parentElement || ended.place !== home;
      }
      drag.mark.remove();
      drag.ghost.remove();
      drag.stop.classList.remove('week-dragged');
      document.body.classList.remove('week-dragging');
    }
    drag = null;
    return ended;
  }

  document.addEventListener('pointercancel', function () { if (drag) { end(); } });
  document.addEventListener('keydown', function (event) { if (event.key === 'Escape' && drag) { end(); } });
})();
