// What the page does at once instead of by loading itself anew. It works without
// this script.
'use strict';

const $ = id => document.getElementById(id);
const base = document.body.dataset.path;

// read is a page of ours as a document: parsed by the browser, its scripts dead.
const read = (method, address, body) => new Promise((resolve, reject) => {
  const x = new XMLHttpRequest();
  x.open(method, address);
  x.responseType = 'document';
  x.onload = () => x.status < 400 && x.response ? resolve(x.response) : reject(x.status);
  x.onerror = reject;
  x.send(body);
});

// merge puts into the conversation, and above it among what is pinned, what is new in
// that of another document, and returns the newest that is.
function merge(from) {
  const newest = mergeList(from, 'conversation'), pinned = mergeList(from, 'pinned');
  $('pins').hidden = !$('pinned').children.length;
  $('conversation').dataset.version = from.getElementById('conversation').dataset.version;
  return newest || pinned;
}

function mergeList(from, list) {
  const log = $(list), fresh = from.getElementById(list);
  const all = [...fresh.children], ids = new Set(all.map(a => a.id));
  for (const gone of [...log.children].filter(a => !ids.has(a.id))) gone.remove();
  let before = null, newest = null;
  for (const a of all) {
    const old = [...log.children].find(o => o.id === a.id); // it may stand in the other list still
    if (old && old.dataset.version === a.dataset.version) { before = old; continue; }
    const focused = old && old.contains(document.activeElement);
    if (old) old.replaceWith(a);
    else if (before) before.after(a);
    else log.prepend(a);
    if (focused) a.focus({ preventScroll: true });
    newest ??= a;
    before = a;
  }
  return newest;
}

const say = text => { $('said').textContent = text; };

// send sends a form and shows what came of it: a form that opened, a word, or the
// messages.
async function send(address, body) {
  say('Rangepost is at work ...');
  try {
    const from = await read('POST', address, body);
    const newest = merge(from);
    $('now').replaceChildren(...from.getElementById('now').children);
    const field = $('now').querySelector('form :is(input, select, textarea):not([type=hidden])');
    const show = field || !$('said').textContent && newest;
    if (!show) return;
    show.focus({ preventScroll: true });
    (field ? $('now') : show).scrollIntoView({ block: 'start' });
  } catch {
    say('No answer came. Is rangepost still running?');
  }
}

document.addEventListener('submit', e => {
  e.preventDefault();
  send(e.submitter?.getAttribute('formaction') || e.target.getAttribute('action'), new FormData(e.target, e.submitter));
});

// What others do arrives by itself, while the page is looked at.
let source;
function watch() {
  source?.close();
  source = null;
  if (document.hidden) return;
  source = new EventSource(base + '/changes?version=' + $('conversation').dataset.version);
  source.onmessage = async e => {
    if (e.data === $('conversation').dataset.version) return;
    const newest = merge(await read('GET', location.href));
    if (newest && !$('said').textContent) say('New: ' + newest.querySelector('header').textContent.trim());
  };
}
document.addEventListener('visibilitychange', watch);
watch();

// A file is handed over by dropping it, rows by pasting them.
const field = () => $('now').querySelector('input[type=file]') || $('file');
function hand(files) {
  const one = new DataTransfer();
  one.items.add(files[0]);
  field().files = one.files;
  if (field() === $('file')) $('file').form.requestSubmit();
}
document.addEventListener('dragover', e => { e.preventDefault(); $('ask').classList.add('over'); });
document.addEventListener('dragleave', () => $('ask').classList.remove('over'));
document.addEventListener('drop', e => {
  e.preventDefault();
  $('ask').classList.remove('over');
  if (e.dataTransfer.files.length) hand(e.dataTransfer.files);
});
document.addEventListener('paste', async e => {
  if (e.target.closest('input, textarea, select')) return;
  if (e.clipboardData.files.length) return hand(e.clipboardData.files);
  const rows = e.clipboardData.getData('text/plain');
  if (!rows.trim()) return;
  await send($('rows').getAttribute('action'), new FormData($('rows')));
  const box = $('now').querySelector('textarea');
  if (box) box.value = rows;
});

// Options are offered while they are typed.
async function offer(e) {
  const input = e.target;
  if (!input.dataset?.complete) return;
  const body = new FormData(input.form);
  for (const [name, value] of [...body]) if (value instanceof File) body.delete(name);
  body.set('option', input.dataset.complete);
  const typed = input.value;
  const texts = await (await fetch(base + '/complete', { method: 'POST', body })).json();
  if (input.value === typed) input.list.replaceChildren(...texts.map(text => new Option(text, text)));
}
document.addEventListener('input', offer);
document.addEventListener('focusin', offer);

// Commands are found by typing.
$('finder').hidden = false;
const commands = [...document.querySelectorAll('details[data-name]')];
$('find').addEventListener('input', () => {
  const typed = $('find').value.trim().toLowerCase().replace(/^\//, '');
  for (const c of commands) c.hidden = !c.querySelector('summary').textContent.toLowerCase().includes(typed);
  for (const g of document.querySelectorAll('.group')) {
    g.hidden = !g.querySelector('details:not([hidden])');
    g.open = typed && !g.hidden;
  }
});
$('finder').addEventListener('submit', e => {
  e.preventDefault();
  e.stopPropagation();
  const typed = $('find').value.trim().replace(/^\//, '');
  const found = commands.find(c => c.dataset.name === typed) || commands.find(c => c.dataset.name.startsWith(typed)) || commands.find(c => !c.hidden);
  if (!found) return;
  found.hidden = found.parentElement.hidden = false;
  found.open = found.parentElement.open = true;
  found.querySelector('form :is(input, select, textarea, button):not([type=hidden])').focus();
});
