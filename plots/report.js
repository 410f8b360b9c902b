'use strict';
// Draws the charts of a report: each function takes a table and a place, and knows no physics.
(() => {
  const charts = JSON.parse(document.getElementById('charts').textContent);
  const colour = name => getComputedStyle(document.documentElement).getPropertyValue(name).trim();
  const line = i => colour(`--line-${i % 6}`);
  const pale = (css, share) => css + Math.round(share * 255).toString(16).padStart(2, '0');
  const dashes = [[], [8, 4], [2, 3], [10, 3, 2, 3]];  // so that lines differ without colour too
  const two = n => String(Math.floor(n)).padStart(2, '0');
  const dash = i => dashes[(i + Math.floor(i / 12)) % 4];
  const drawn = [];
  let chosen = null, choose = null;  // the moment of the schematic, and how another is taken

  const clock = s => (s >= 86400 ? `${Math.floor(s / 86400)} d ` : '') + `${two(s / 3600 % 24)}:${two(s / 60 % 60)}`;
  // Days on long spans, hours and minutes on short ones; only where round steps fall.
  const steps = [1, 5, 10, 30, 60, 300, 600, 1800, 3600, 7200, 10800, 21600, 43200, 86400, 172800, 604800, 2592000];
  const tick = (s, step) => step >= 86400 ? `day ${Math.round(s / 86400)}` : step < 60 ? `${clock(s)}:${two(s % 60)}` : clock(s);

  const axis = (more = {}) => ({
    stroke: () => colour('--soft'), font: '12px system-ui, sans-serif', labelFont: '12px system-ui, sans-serif',
    grid: {stroke: () => colour('--rule'), width: 1}, ticks: {stroke: () => colour('--rule'), width: 1}, ...more,
  });
  const place = (parent, title) => {
    const panel = parent.appendChild(document.createElement('div'));
    panel.className = 'panel';
    if (title) panel.appendChild(Object.assign(document.createElement('p'), {className: 'panel-title', textContent: title}));
    return panel;
  };
  const width = parent => Math.max(280, parent.clientWidth);
  const draw = (options, data, parent) => {
    const plot = new uPlot({width: width(parent), legend: {markers: {dash: swatch(options.series)}}, ...options}, data, parent);
    drawn.push({plot, parent});
    parent.querySelectorAll('.u-legend .u-series th').forEach((entry, k) => {
      if (k === 0) return;  // the first is what lies across
      entry.tabIndex = 0, entry.setAttribute('role', 'button');
      entry.onkeydown = e => { if (e.key === 'Enter') entry.click(); };
    });
    return plot;
  };
  // The line of a legend looks as in the chart, as far as borders can.
  const swatch = series => (u, k) => {
    const {dash = []} = series[k];
    return ['solid', , dash[0] > 4 ? 'dashed' : 'dotted', , 'double'][dash.length];
  };
  // Arrows read the chart from one value to the next: what the legend then says can be heard too.
  const readable = (plot, box, words) => {
    box.tabIndex = 0, box.setAttribute('role', 'group'), box.setAttribute('aria-label', `${words}: arrow keys read it`);
    box.querySelector('.u-legend')?.setAttribute('aria-live', 'polite');
    box.onkeydown = e => {
      const by = {ArrowLeft: -1, ArrowRight: 1}[e.key];
      if (!by || e.target !== box) return;
      const {min, max} = plot.scales.x, xs = plot.data[0], seen = xs.filter(x => x >= min && x <= max);
      const from = plot.cursor.idx ?? xs.indexOf(seen[0]) - by, step = Math.max(1, Math.round(seen.length / 200));
      const x = xs[Math.min(Math.max(from + by * step, xs.indexOf(seen[0])), xs.indexOf(seen[seen.length - 1]))];
      plot.setCursor({left: plot.valToPos(x, 'x'), top: plot.over.clientHeight / 2});
      e.preventDefault();
    };
  };

  // A panel's columns: the means, then a lowest and a highest where they differ, as a band.
  function columns(panel) {
    const data = [], series = [{label: 'time', value: (u, v) => v == null ? '–' : `${clock(v)}:${two(v % 60)}`}], bands = [];
    const rows = panel.series.length;
    panel.series.forEach((one, i) => {
      const row = rows - 1 - i, steps = panel.look === 'steps';  // steps stand in a row each
      const stroke = () => panel.look === 'band' && i === 0 ? colour('--fire') : line(i);
      data.push(steps ? one.mean.map(v => v == null ? v : row + 0.75 * v) : one.mean);
      series.push({
        label: one.label, show: !one.resting, stroke, width: panel.look === 'lines' ? 1.75 : 1.25, points: {show: false},
        dash: panel.look === 'lines' ? dash(i) : [],
        paths: panel.look === 'lines' ? undefined : uPlot.paths.stepped({align: 1}),
        fill: panel.look === 'lines' ? undefined : () => pale(stroke(), panel.look === 'band' && i === 0 ? 0.75 : 0.4),
        fillTo: steps ? row : 0,
        value: (u, v, s, k) => v == null || k == null ? '–' : `${one.mean[k]} ${panel.unit}`,
      });
      if (!one.least) return;
      for (const edge of [one.most, one.least]) {
        data.push(edge);
        series.push({label: '', show: !one.resting, stroke: 'transparent', width: 0, points: {show: false}});
      }
      bands.push({series: [series.length - 2, series.length - 1], fill: () => pale(line(i), 0.18)});
    });
    return {data, series, bands};
  }

  const gutter = width => width < 600 ? 64 : 96;  // left of all panels, so that their times stand in line
  const cut = (words, most) => words.length > most ? words.slice(0, most - 1) + '…' : words;
  // How high a panel is, what its upright axis spans and how that is marked.
  const looks = {
    lines: () => ({
      height: 210, upright: {space: 34},
      range: (u, low, high) => low == null ? [0, 1] : uPlot.rangeNum(low, Math.max(high, low + 1), 0.08, false),
    }),
    band: panel => ({height: 90, upright: {space: 28}, range: (u, low, high) => [0, panel.unit === '%' ? 100 : Math.max(1, high || 1)]}),
    steps: panel => ({
      height: 24 + 18 * panel.series.length, range: () => [0, panel.series.length],
      upright: {splits: () => panel.series.map((_, i) => panel.series.length - i - 0.6), grid: {show: false}, ticks: {show: false},
                values: u => panel.series.map(one => cut(one.label.replace(/ calls$/, ''), (gutter(u.width) - 18) / 6.4))},
    }),
  };
  const timed = [];
  const hide = (rows, which) => rows.forEach((row, k) => { if (which(k)) row.style.display = 'none'; });

  function time(table, parent, number) {
    const times = Float64Array.from({length: table.bins}, (_, i) => table.start + i * table.step);
    const whole = {min: table.start, max: table.start + table.bins * table.step}, group = [], key = `time-${number}`;
    let shown = whole;
    const show = (min, max) => {
      const span = Math.min(Math.max(max - min, 4 * table.step), whole.max - whole.min);
      min = Math.min(Math.max(min, whole.min), whole.max - span);
      shown = {min, max: min + span};
      group.forEach(u => u.setScale('x', shown));
    };
    const tools = parent.appendChild(Object.assign(document.createElement('div'), {className: 'tools'}));
    const move = (closer, aside) => {
      const {min, max} = shown, middle = (min + max) / 2 + aside * (max - min), half = (max - min) / 2 * closer;
      show(middle - half, middle + half);
    };
    for (const [words, act] of [['closer', () => move(0.5, 0)], ['wider', () => move(2, 0)], ['earlier', () => move(1, -0.5)],
                                ['later', () => move(1, 0.5)], ['all', () => show(whole.min, whole.max)]]) {
      tools.appendChild(Object.assign(document.createElement('button'), {type: 'button', textContent: words, onclick: act}));
    }
    table.panels.forEach((panel, i) => {
      const {data, series, bands} = columns(panel), box = place(parent, panel.title + (panel.unit ? ` [${panel.unit}]` : ''));
      const last = i === table.panels.length - 1, {height, range, upright} = looks[panel.look](panel);
      box.classList.add(panel.look);
      group.push(draw({
        height: height + (last ? 48 : 0), series, bands, padding: [8, 36, 0, 0],
        cursor: {
          sync: {key, setSeries: false, filters: {pub: type => type === 'mousemove' || type === 'mouseleave'}},
          drag: {x: true, y: false}, bind: {dblclick: () => () => show(whole.min, whole.max)},
        },
        scales: {x: {time: false, range: (u, min, max) => [min, max]}, y: {range}},
        axes: [
          axis({size: last ? 34 : 8, incrs: steps, space: 90, label: last ? 'time since the start' : undefined, labelSize: 22,
                values: (u, at, a, b, step) => at.map(s => last ? tick(s, step) : '')}),
          axis({size: u => gutter(u.width), ...upright}),
        ],
        hooks: {
          draw: [u => {  // where the schematic's moment lies
            if (chosen == null || chosen < shown.min || chosen > shown.max) return;
            const x = Math.round(u.valToPos(chosen, 'x', true)), {top, height} = u.bbox;
            u.ctx.save();
            u.ctx.strokeStyle = colour('--ink'), u.ctx.lineWidth = devicePixelRatio, u.ctx.setLineDash([3, 3]);
            u.ctx.beginPath(), u.ctx.moveTo(x, top), u.ctx.lineTo(x, top + height), u.ctx.stroke();
            u.ctx.restore();
          }],
          setScale: [(u, name) => {  // one panel was dragged: the others follow; it ends when all show the same
            const {min, max} = u.scales.x;
            if (name === 'x' && u.status === 1 && (min !== shown.min || max !== shown.max)) show(min, max);
          }],
          setSeries: [(u, k, {show}) => {  // a line takes its band along
            if (k == null || show == null || series[k].label === '') return;
            for (let j = k + 1; series[j]?.label === ''; ++j) u.setSeries(j, {show});
          }],
          ready: [u => {
            hide(u.root.querySelectorAll('.u-legend .u-series'), k => series[k].label === '');
            let from = 0;
            u.over.addEventListener('mousedown', e => { from = e.clientX; });
            u.over.addEventListener('click', e => {  // not the end of a drag
              if (choose && Math.abs(e.clientX - from) < 4) choose(u.posToVal(e.clientX - u.over.getBoundingClientRect().left, 'x'));
            });
          }],
        },
      }, [times, ...data], box));
      timed.push(group[group.length - 1]);
      readable(group[group.length - 1], box, panel.title);
    });
    show(whole.min, whole.max);
  }

  // Repaints the schematic at another moment.
  function piping(table, label) {
    const figure = label.closest('figure'), svg = figure.querySelector('svg'), slider = label.querySelector('input');
    const stretches = [...svg.querySelectorAll('[data-stretch]')], limbs = [...svg.querySelectorAll('[data-limb]')];
    const names = limbs.map(limb => limb.querySelector('title').textContent.replace(/: [^:]*$/, ''));
    const show = k => {
      const {time, words, stretches: colours, texts, ways} = table.moments[k], at = `${clock(time)}:${two(time % 60)}`;
      stretches.forEach(path => {
        const code = colours[path.dataset.stretch], still = code < 0;
        path.classList.toggle('still', still);
        if (path.classList.contains('pipe')) path.setAttribute('stroke', table.colours[still ? -1 - code : code]);
      });
      limbs.forEach((limb, i) => {
        const l = limb.dataset.limb, text = table.texts[texts[l]], way = limb.querySelector('.way');
        limb.querySelector('.figures').textContent = text;
        limb.querySelector('title').textContent = `${names[i]}: ${text}${ways[l] === '-' ? ', backwards' : ''}`;
        if (!way) return;
        way.setAttribute('visibility', ways[l] === '0' ? 'hidden' : 'visible');
        way.setAttribute('transform', ways[l] === '-' ? 'scale(-1 1)' : '');
      });
      figure.querySelectorAll('.when').forEach((place, i) => {
        place.textContent = place.tagName === 'text' ? words : `${at}${words ? ': ' : ''}${words}`;
      });
      slider.value = k, slider.setAttribute('aria-valuetext', `${at} ${words}`);
      chosen = time;
      timed.forEach(plot => plot.redraw(false, false));
    };
    const off = (k, time) => Math.abs(table.moments[k].time - time);
    choose = time => show(table.moments.reduce((best, _, k) => off(k, time) < off(best, time) ? k : best, 0));
    chosen = table.moments[slider.value].time;
    figure.querySelectorAll('.moment').forEach(tool => { tool.hidden = false; });
    let waiting = 0;
    slider.oninput = () => {
      cancelAnimationFrame(waiting);
      waiting = requestAnimationFrame(() => show(Number(slider.value)));
    };
  }

  function bars(table, parent) {
    const at = table.labels.map((_, i) => i), crowded = table.labels.join('').length * 8 > width(parent) - 90;
    draw({
      height: crowded ? 330 : 260,
      series: [{}, {stroke: () => line(1), fill: () => pale(line(1), 0.6), paths: uPlot.paths.bars({size: [0.7, 90]}),
                points: {show: false}}],
      scales: {x: {time: false, range: [-0.6, at.length - 0.4]}, y: {range: (u, low, high) => [0, Math.max(1, high) * 1.14]}},
      axes: [axis({splits: at, values: (u, v) => v.map(i => table.labels[i]), grid: {show: false}, space: 0,
                   label: table.across || undefined,
                   ...(crowded ? {rotate: -50, size: 110} : {})}),
             axis({size: 56, label: table.up})],
      cursor: {show: false}, legend: {show: false},
      hooks: {
        draw: [u => {  // each bar carries its value: nothing to hover over, and paper shows it too
          u.ctx.save();
          u.ctx.fillStyle = colour('--ink'), u.ctx.textAlign = 'center', u.ctx.font = `${12 * devicePixelRatio}px system-ui, sans-serif`;
          table.values.forEach((v, i) => u.ctx.fillText(v, u.valToPos(i, 'x', true), u.valToPos(v, 'y', true) - 5 * devicePixelRatio));
          u.ctx.restore();
        }],
      },
    }, [at, table.values], place(parent));
  }

  // Curves and dots have their own x values: joined into one sorted column with gaps.
  function reset(table, parent) {
    const dots = table.points.filter(p => p.x.length), all = [...table.curves, ...dots];
    const sorted = one => {
      const order = one.x.map((_, i) => i).sort((a, b) => one.x[a] - one.x[b]);
      return order.map(i => [one.x[i], one.y[i]]);
    };
    const xs = [], columns = all.map(() => []);
    all.forEach((one, k) => sorted(one).forEach(([x, y]) => xs.push([x, k, y])));
    xs.sort((a, b) => a[0] - b[0]);
    xs.forEach(([, k, y]) => all.forEach((_, j) => columns[j].push(j === k ? y : j < table.curves.length ? undefined : null)));
    const dot = k => k === table.curves.length ? line(0) : colour('--soft');  // the first kind of dots stands out
    draw({
      height: 320,
      series: [{label: table.across}, ...all.map((one, k) => k < table.curves.length
        ? {label: one.label, stroke: () => line(k + 1), width: 2.5, spanGaps: true, points: {show: false}}
        : {label: one.label, stroke: () => dot(k), paths: () => null,
           points: {show: true, size: k === table.curves.length ? 5 : 4, fill: () => pale(dot(k), 0.5), width: 0.5}})],
      scales: {x: {time: false}},
      axes: [axis({label: table.across}), axis({size: 56, label: table.up})],
      cursor: {drag: {x: false, y: false}},
    }, [xs.map(p => p[0]), ...columns], place(parent));
  }

  const kinds = {time, bars, reset, piping};
  document.querySelectorAll('[data-chart]').forEach(parent => {
    const number = Number(parent.dataset.chart), one = charts[number];
    kinds[one.kind](one.table, parent, number);
  });

  const again = () => drawn.forEach(({plot}) => plot.redraw(true, true));
  addEventListener('resize', () => drawn.forEach(({plot, parent}) => plot.setSize({width: width(parent), height: plot.height})));
  for (const media of ['(prefers-color-scheme: dark)', 'print']) matchMedia(media).addEventListener('change', again);
})();
