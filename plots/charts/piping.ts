// Repaints a schematic at another moment: the engine has said colours, words and ways; legend and shapes stay.

export interface Repaintings {
  colours: string[];
  texts: string[];
  moments: { time: number; words: string; stretches: number[]; texts: number[]; ways: string }[];
}

/** The place of the moment nearest to a time. */
export function nearest(table: Repaintings, time: number): number {
  const { moments } = table;
  let low = 0, high = moments.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (moments[middle].time <= time) low = middle;
    else high = middle;
  }
  return Math.abs(moments[high].time - time) < Math.abs(moments[low].time - time) ? high : low;
}

/** Returns what paints the kth moment of the table into this SVG. */
export function painter(svg: SVGElement, table: Repaintings): (k: number) => void {
  const stretches = [...svg.querySelectorAll<SVGElement>('[data-stretch]')];
  const limbs = [...svg.querySelectorAll<SVGElement>('[data-limb]')].map(limb => ({
    number: Number(limb.dataset.limb), title: limb.querySelector('title')!, figures: limb.querySelector('.figures'),
    way: limb.querySelector('.way'), name: limb.querySelector('title')!.textContent!.replace(/: [^:]*$/, ''),
  }));
  const words_of_svg = svg.querySelectorAll('text.when');
  let now: Repaintings['moments'][number] | undefined;
  return k => {
    const moment = table.moments[k];
    if (moment === now) return;
    const { words, stretches: colours, texts, ways } = moment;
    for (const path of stretches) {
      const code = colours[Number(path.dataset.stretch)], still = code < 0;
      path.classList.toggle('still', still);
      if (path.classList.contains('pipe')) path.setAttribute('stroke', table.colours[still ? -1 - code : code]);
    }
    for (const { number, title, figures, way, name } of limbs) {
      const text = table.texts[texts[number]];
      if (figures) figures.textContent = text;
      title.textContent = `${name}: ${text}${ways[number] === '-' ? ', backward' : ''}`;
      way?.setAttribute('visibility', ways[number] === '0' ? 'hidden' : 'visible');
      way?.setAttribute('transform', ways[number] === '-' ? 'scale(-1 1)' : '');
    }
    words_of_svg.forEach(place => { place.textContent = words; });
    now = moment;
  };
}
