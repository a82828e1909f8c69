'use strict';
(() => {
  const most = 12;  // times that a page is enlarged
  const svgNumber = (element, name) => parseFloat(element.getAttribute(name));

  // One page: its drawing is moved by the view box, so that all layers stay together and lines stay sharp.
  class Sheet {
    constructor(page) {
      this.page = page;
      this.view = page.querySelector('.view');
      this.drawing = page.querySelector('.drawing');
      const [, , width, height] = this.drawing.getAttribute('viewBox').split(' ').map(Number);
      this.width = width;
      this.height = height;
      this.fingers = new Map();
      this.whole();
      this.listen();
    }

    whole() { this.show(this.width / 2, this.height / 2, 1); }

    // The place (x, y) of the drawing goes to the middle.
    show(x, y, zoom) {
      this.zoom = Math.min(most, Math.max(1, zoom));
      const free = this.zoom > 1;
      this.x = free ? Math.min(this.width, Math.max(0, x)) : this.width / 2;
      this.y = free ? Math.min(this.height, Math.max(0, y)) : this.height / 2;
      const width = this.width / this.zoom, height = this.height / this.zoom;
      this.drawing.setAttribute('viewBox', `${this.x - width / 2} ${this.y - height / 2} ${width} ${height}`);
      this.view.classList.toggle('near', free);
    }

    // Drawing units for one pixel of the screen.
    unit() { return 1 / this.drawing.getScreenCTM().a; }

    // Enlarges so that what lies under a place of the screen stays there.
    zoomAt(clientX, clientY, factor) {
      const box = this.drawing.getBoundingClientRect(), unit = this.unit();
      const fromX = (clientX - box.left - box.width / 2) * unit, fromY = (clientY - box.top - box.height / 2) * unit;
      const zoom = Math.min(most, Math.max(1, this.zoom * factor)), keep = 1 - this.zoom / zoom;
      this.show(this.x + fromX * keep, this.y + fromY * keep, zoom);
    }

    centre(number) {
      const box = this.page.querySelector(`.hit[data-box="${number}"]`);
      if (!box) return;
      const [x, y, width, height] = ['x', 'y', 'width', 'height'].map(name => svgNumber(box, name));
      const zoom = Math.min(0.5 * this.width / Math.max(width, 1), 0.5 * this.height / Math.max(height, 1), 5);
      this.show(x + width / 2, y + height / 2, Math.max(zoom, 1.5));
    }

    mark(number) {
      for (const element of this.page.querySelectorAll('.current')) element.classList.remove('current');
      this.page.querySelector(`.finding[data-finding="${number}"]`)?.classList.add('current');
      this.page.querySelector(`.hit[data-box="${number}"]`)?.classList.add('current');
    }

    fromList(number) {
      this.mark(number);
      this.centre(number);
      const box = this.view.getBoundingClientRect();
      if (box.bottom < 80 || box.top > innerHeight - 80) this.view.scrollIntoView({block: 'nearest'});
    }

    fromPage(number) {
      this.mark(number);
      const finding = this.page.querySelector(`.finding[data-finding="${number}"]`);
      finding.querySelector('[data-goto]')?.focus({preventScroll: true});
      finding.scrollIntoView({block: 'center'});
    }

    listen() {
      this.page.addEventListener('change', event => this.changed(event.target));
      this.page.addEventListener('click', event => this.clicked(event.target));
      this.view.addEventListener('keydown', event => this.pressed(event));
      this.view.addEventListener('wheel', event => {
        if (!event.ctrlKey && !event.metaKey) return;  // the wheel alone scrolls the report
        event.preventDefault();
        this.zoomAt(event.clientX, event.clientY, Math.exp(-event.deltaY * 0.004));
      }, {passive: false});
      this.view.addEventListener('dblclick', event => this.zoomAt(event.clientX, event.clientY, 2));
      this.view.addEventListener('pointerdown', event => this.down(event));
      this.view.addEventListener('pointermove', event => this.moved(event));
      for (const end of ['pointerup', 'pointercancel', 'pointerleave'])
        this.view.addEventListener(end, event => this.fingers.delete(event.pointerId));
    }

    changed(input) {
      if (input.matches('[data-dim]')) this.page.classList.toggle('dim', input.checked);
      const layer = input.dataset.switch;
      if (!layer) return;
      const names = layer === 'findings' ? ['findings', 'hits'] : [layer];
      for (const name of names) {
        const group = this.drawing.querySelector(`[data-layer="${name}"]`);
        if (group) group.style.display = input.checked ? '' : 'none';
      }
    }

    clicked(target) {
      const go = target.closest('[data-goto]'), zoom = target.closest('[data-zoom]'), hit = target.closest('.hit');
      if (go) this.fromList(go.dataset.goto);
      if (hit && !this.dragged) this.fromPage(hit.dataset.box ?? hit.dataset.tag);
      if (zoom?.dataset.zoom === 'whole') this.whole();
      else if (zoom) this.show(this.x, this.y, this.zoom * (zoom.dataset.zoom === 'in' ? 1.5 : 1 / 1.5));
    }

    pressed(event) {
      if (event.ctrlKey || event.metaKey || event.altKey) return;
      const step = 0.15 * this.width / this.zoom;
      const moves = {ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, -step], ArrowDown: [0, step]};
      if (event.key === '+' || event.key === '=') this.show(this.x, this.y, this.zoom * 1.5);
      else if (event.key === '-') this.show(this.x, this.y, this.zoom / 1.5);
      else if (event.key === '0') this.whole();
      else if (moves[event.key] && this.zoom > 1)
        this.show(this.x + moves[event.key][0], this.y + moves[event.key][1], this.zoom);
      else return;
      event.preventDefault();
    }

    down(event) {
      this.dragged = false;
      this.fingers.set(event.pointerId, event);
    }

    moved(event) {
      const before = this.fingers.get(event.pointerId);
      if (!before) return;
      const other = [...this.fingers.values()].find(finger => finger.pointerId !== event.pointerId);
      if (other) {
        const apart = finger => Math.hypot(finger.clientX - other.clientX, finger.clientY - other.clientY);
        const factor = apart(event) / Math.max(1, apart(before));
        this.zoomAt((event.clientX + other.clientX) / 2, (event.clientY + other.clientY) / 2, factor);
        this.dragged = true;
      } else if (this.zoom > 1) {
        const dx = event.clientX - before.clientX, dy = event.clientY - before.clientY, unit = this.unit();
        if (!this.dragged && Math.hypot(dx, dy) < 4) return;
        if (!this.dragged) this.view.setPointerCapture(event.pointerId);
        this.dragged = true;
        this.show(this.x - dx * unit, this.y - dy * unit, this.zoom);
      }
      this.fingers.set(event.pointerId, event);
    }
  }

  // The contact sheet of a run: search, filters and their counts.
  class Contact {
    constructor(section) {
      this.cards = [...section.querySelectorAll('.card')];
      this.pages = new Map([...document.querySelectorAll('.page')].map(page => [page.id, page]));
      this.groups = document.querySelectorAll('.group');
      this.status = section.querySelector('.shown');
      const bar = section.querySelector('.filter');
      this.search = this.add(bar, 'Search', Object.assign(document.createElement('input'), {type: 'search'}));
      this.verdict = this.add(bar, 'Verdict', this.choice(this.counted(card => [card.dataset.verdict]), {
        fix: 'to mend', review: 'to be looked at', 'not-assessed': 'not wholly checked', note: 'notes only',
        clear: 'no finding', failed: 'not inspected'}));
      this.check = this.add(bar, 'Check', this.choice(this.counted(card => card.dataset.checks.split(' ').filter(Boolean)), {}));
      bar.addEventListener('input', () => this.filter());
      bar.hidden = false;
      this.filter();
    }

    add(bar, title, control) {
      const label = document.createElement('label');
      label.append(title, control);
      bar.append(label);
      return control;
    }

    counted(names) {
      const counts = new Map();
      for (const card of this.cards) for (const name of names(card)) counts.set(name, (counts.get(name) ?? 0) + 1);
      return counts;
    }

    choice(counts, titles) {
      const select = document.createElement('select');
      select.append(new Option('all', ''));
      for (const [name, count] of counts) select.append(new Option(`${titles[name] ?? name} (${count})`, name));
      return select;
    }

    filter() {
      const words = this.search.value.toLowerCase().split(/\s+/).filter(Boolean);
      let shown = 0;
      for (const card of this.cards) {
        const {name, job, verdict, checks, page} = card.dataset, text = `${name} ${job}`.toLowerCase();
        const fits = words.every(word => text.includes(word)) && (!this.verdict.value || verdict === this.verdict.value) &&
            (!this.check.value || checks.split(' ').includes(this.check.value));
        card.hidden = !fits;
        const sheet = this.pages.get(page);
        if (sheet) sheet.hidden = !fits;
        if (fits) ++shown;
      }
      for (const group of this.groups) group.hidden = !group.querySelector('.page:not([hidden])');
      this.status.textContent = `${shown} of ${this.cards.length} pages shown`;
    }
  }

  for (const page of document.querySelectorAll('.page')) new Sheet(page);
  for (const section of document.querySelectorAll('.contact')) new Contact(section);
})();
