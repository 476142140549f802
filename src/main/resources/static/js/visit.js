// The visit on a phone: its id is made here, before there is a signal; what is typed is kept on the device until the visit is
// stored, so that an expired session or a dead spot loses nothing; arrows step through the marks of a test.
(function () {
  'use strict';
  const PREFIX = 'meniscus-visit/';
  const KEPT_DAYS = 14;
  const PHOTO_MAX = 12 * 1024 * 1024;
  const PHOTOS_MAX = 6;
  const NOT_KEPT = ['_csrf', 'photos', 'work', 'more', 'sentAt'];
  let restoring = false;

  function form() { return document.getElementById('visit-form'); }

  // RFC 9562, version 7: the time, then chance
  function newId() {
    const bytes = crypto.getRandomValues(new Uint8Array(16));
    let time = Date.now();
    for (let n = 5; n >= 0; n--) { bytes[n] = time % 256; time = Math.floor(time / 256); }
    bytes[6] = (bytes[6] & 0x0f) | 0x70;
    bytes[8] = (bytes[8] & 0x3f) | 0x80;
    const hex = Array.from(bytes, function (byte) { return byte.toString(16).padStart(2, '0'); }).join('');
    return hex.replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, '$1-$2-$3-$4-$5');
  }

  function stored(key) {
    try { return JSON.parse(localStorage.getItem(key)); } catch (broken) { return null; }
  }

  function fields() {
    const kept = [];
    new FormData(form()).forEach(function (value, name) {
      if (typeof value === 'string' && NOT_KEPT.indexOf(name) < 0) { kept.push([name, value]); }
    });
    return kept;
  }

  function keep() {
    if (restoring || !form()) { return; }
    const id = form().elements.id.value;
    try {
      localStorage.setItem(PREFIX + form().dataset.draft, JSON.stringify({ id: id, at: Date.now(), fields: fields() }));
    } catch (full) { /* private mode or no room: the page still works, only without a draft */ }
  }

  function drafts() {
    const keys = [];
    for (let n = 0; n < localStorage.length; n++) {
      if (localStorage.key(n).indexOf(PREFIX) === 0) { keys.push(localStorage.key(n)); }
    }
    return keys;
  }

  // a visit that is stored needs no draft any more; nor does one that is two weeks old
  function tidy(storedId) {
    drafts().forEach(function (key) {
      const draft = stored(key);
      if (!draft || draft.id === storedId || Date.now() - draft.at > KEPT_DAYS * 86400000) { localStorage.removeItem(key); }
    });
  }

  function token() {
    const headers = document.body.getAttribute('hx-headers');
    return headers ? JSON.parse(headers)['X-CSRF-TOKEN'] : '';
  }

  function showNotice(text, act, action) {
    const notice = form().querySelector('.visit-notice');
    notice.hidden = false;
    notice.textContent = text + ' ';
    if (act) {
      const button = document.createElement('button');
      button.type = 'button';
      button.textContent = act;
      button.addEventListener('click', action);
      notice.append(button);
    }
  }

  // The server draws the form from the draft, plan and all: one way of drawing it, not two.
  function restore(draft) {
    restoring = true;
    const body = new URLSearchParams();
    draft.fields.forEach(function (field) {
      if (field[0] !== 'pool' && field[0] !== 'stop') { body.append(field[0], field[1]); }
    });
    body.append('pool', form().elements.pool.value);
    body.append('stop', form().elements.stop.value);
    fetch(form().dataset.show, { method: 'POST', body: body, headers: { 'X-CSRF-TOKEN': token(), 'HX-Request': 'true' } })
      .then(function (answer) { if (!answer.ok) { throw new Error('status ' + answer.status); } return answer.text(); })
      .then(function (html) {
        const next = new DOMParser().parseFromString(html, 'text/html').getElementById('visit-form');
        form().replaceWith(document.importNode(next, true));
        if (window.htmx) { window.htmx.process(form()); }
        restoring = false;
        begin();
        showNotice(form().dataset.restored, form().dataset.discard, function () {
          localStorage.removeItem(PREFIX + form().dataset.draft);
          restoring = true; // nothing more is kept of this one
          location.replace(location.pathname + location.search);
        });
      })
      .catch(function () { restoring = false; showNotice(form().dataset.offline); });
  }

  function begin() {
    form().querySelectorAll('input[data-step]').forEach(function (input) { input.addEventListener('keydown', step); });
    const kit = document.getElementById('kit');
    if (kit) { kit.addEventListener('change', showKit); }
  }

  // the kit for all readings stands as the usual one beside each
  function showKit(event) {
    const kit = event.target.selectedOptions[0];
    form().querySelectorAll('.visit-test').forEach(function (select) {
      const usual = select.options[0];
      usual.dataset.usual = usual.dataset.usual || usual.text;
      usual.text = kit.value ? kit.text : usual.dataset.usual;
    });
  }

  // up and down as in a number field
  function step(event) {
    const by = { ArrowUp: 1, ArrowDown: -1 }[event.key];
    if (!by) { return; }
    event.preventDefault();
    const input = event.target;
    const size = Number(input.dataset.step);
    const now = Number(input.value.replace(',', '.'));
    if (!(size > 0) || isNaN(now)) { return; }
    const next = Math.round((now + by * size) / size) * size;
    const most = Math.min(Number(input.dataset.max), Math.max(Number(input.dataset.min), next));
    input.value = String(Math.round(most * 100) / 100);
    keep();
  }

  function photos(input) {
    const list = document.getElementById('visit-chosen');
    list.replaceChildren();
    const files = Array.from(input.files);
    const large = files.filter(function (file) { return file.size > PHOTO_MAX; });
    let text = '';
    if (files.length > PHOTOS_MAX) { text = form().dataset.many; }
    else if (large.length > 0) { text = form().dataset.large; }
    if (text) {
      const item = document.createElement('li');
      item.className = 'error';
      item.textContent = text;
      list.append(item);
      input.value = '';
      return;
    }
    files.forEach(function (file) {
      const item = document.createElement('li');
      const image = document.createElement('img');
      image.alt = file.name;
      image.src = URL.createObjectURL(file);
      image.addEventListener('load', function () { URL.revokeObjectURL(image.src); });
      item.append(image);
      list.append(item);
    });
  }

  const page = document.querySelector('[data-stored-visit]');
  if (page) { tidy(page.dataset.storedVisit); return; }
  if (!form()) { return; }
  tidy(null);
  const draft = stored(PREFIX + form().dataset.draft);
  const refused = form().querySelector('.problems') || form().dataset.planned;
  if (draft && !refused) { restore(draft); }
  else {
    if (!refused) { form().elements.id.value = newId(); }
    begin();
  }

  document.addEventListener('input', function (event) {
    if (!form() || !form().contains(event.target)) { return; }
    if (event.target.id === 'photos') { photos(event.target); return; }
    keep();
  });
  document.addEventListener('change', function (event) { if (form() && form().contains(event.target)) { keep(); } });

  // the first press is the time of the visit; sending again later does not move it
  function stamp(event) {
    if (!form()) { return; }
    if (event.target.value === 'submit' && !form().elements.performedAt.value) { form().elements.performedAt.value = String(Date.now()); }
    form().elements.sentAt.value = String(Date.now());
    keep();
  }
  document.addEventListener('click', function (event) {
    if (event.target.matches && event.target.matches('#visit-form button[name=work]')) { stamp(event); }
  }, true);

  // the session has ended, or its token has: the page is asked for again, which leads over the sign-in page and back to the draft
  document.addEventListener('htmx:beforeOnLoad', function (event) {
    const status = event.detail.xhr.status;
    if (status === 401 || status === 403) {
      event.preventDefault();
      keep();
      location.assign(form().getAttribute('action') + '?pool=' + form().elements.pool.value + (form().elements.stop.value ? '&stop=' + form().elements.stop.value : ''));
    }
  });
  document.addEventListener('htmx:sendError', function () { showNotice(form().dataset.offline); });
  document.addEventListener('htmx:responseError', function () { showNotice(form().dataset.offline); });

  document.addEventListener('htmx:afterSwap', function () {
    if (!form()) { return; }
    begin();
    keep();
    // chosen photos stay chosen, and in sight
    if (form().elements.photos.files.length > 0) { document.getElementById('visit-extras').open = true; }
    const problem = form().querySelector('.problems[role=alert]');
    const plan = document.getElementById('visit-plan');
    const first = form().querySelector('[aria-invalid=true]') || form().querySelector('.visit-problem input');
    if (problem) { problem.focus(); (first || problem).scrollIntoView({ block: 'center' }); }
    else if (lastPressed === 'plan' && plan) { plan.focus(); plan.scrollIntoView({ block: 'start' }); }
    else if (lastPressed === 'more') {
      const lines = form().querySelectorAll('[name=doseProduct]');
      lines[lines.length - 1].focus();
    }
  });
  let lastPressed = '';
  document.addEventListener('htmx:beforeRequest', function (event) {
    lastPressed = event.target.name === 'more' ? 'more' : (event.target.value || '');
  });
})();
