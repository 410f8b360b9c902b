// Hand over: what goes to others, made by the engine and given as files.

import { useEffect, useRef, useState } from 'preact/hooks';
import type { Document as Paper, DocumentRequest } from './interface';
import { Failed, Faults, Progress, type ViewProps } from './parts';
import { is_abort, told } from './running';
import { store } from './store';

const papers: { what: DocumentRequest['what']; button: string; words: string }[] = [
  { what: 'report', button: 'Make the report',
    words: 'The full report as one web page. It works offline and prints to PDF. The scenario is run first.' },
  { what: 'review', button: 'Make the review page', words: 'Every number compared with its limit, on one page.' },
  { what: 'materials', button: 'Make the materials list', words: 'Pipes, fittings and parts, for a spreadsheet.' },
  { what: 'schematic', button: 'Make the schematic', words: 'The drawing as SVG, sharp at any size.' },
  { what: 'scenario', button: 'Download the scenario file', words: 'The text as it is now, saved or not.' },
];

function download({ name, type, text }: Paper): void {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(new Blob([text], { type }));
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}

/** A page that needs no scripts, printed from a frame of its own. */
function print_page({ name, text }: Paper): void {
  const url = URL.createObjectURL(new Blob([text], { type: 'text/html' }));
  const frame = Object.assign(document.createElement('iframe'), { src: url, title: name, className: 'to-print' });
  frame.onload = () => {
    frame.contentWindow!.focus(), frame.contentWindow!.print();
    setTimeout(() => { frame.remove(), URL.revokeObjectURL(url); }, 60_000);
  };
  document.body.append(frame);
}

/** The view of the day, printed once its run is there. */
function print_day(): void {
  store.show('watch');
  store.say('The print window opens when the run is done.');
  const wait = setInterval(() => {
    if (store.state().view !== 'watch' || document.querySelector('.watch .failed, .watch .faults')) clearInterval(wait);
    else if (document.querySelector('.watch .piping svg') && !document.querySelector('.watch .progress')) {
      clearInterval(wait);
      setTimeout(() => print(), 300); // the charts are drawn
    }
  }, 200);
}

export function HandOver({ engine, scenario }: ViewProps) {
  const [busy, set_busy] = useState<{ what: string; share: number }>(), [made, set_made] = useState<{ what: string; paper: Paper }>();
  const [failed, fail] = useState<{ words: string; hint: string }>(), stopper = useRef<AbortController>();
  useEffect(() => () => stopper.current?.abort(), []);
  const make = async (what: DocumentRequest['what'], use: (paper: Paper) => void = download) => {
    stopper.current?.abort();
    const mine = stopper.current = new AbortController();
    fail(undefined), set_made(undefined), set_busy({ what, share: 0 });
    try {
      const paper = await engine.ask('document', { ...scenario, what }, part => { if (!mine.signal.aborted) set_busy({ what,
        share: part.share }); }, mine.signal);
      if (mine.signal.aborted) return;
      set_made({ what, paper });
      if (paper.faults.length) return;
      use(paper);
      store.say(use === download ? `${paper.name} is in your downloads.` : `The print window opens with ${paper.name}.`);
    } catch (e) {
      if (mine === stopper.current) fail(is_abort(e) || mine.signal.aborted ? { words: 'Stopped.', hint: '' } : told(e));
    } finally {
      if (mine === stopper.current) set_busy(undefined);
    }
  };
  return <div class="plain hand-over-view">
    <h1>Hand over</h1>
    {failed && <Failed failed={failed} />}
    {made && made.paper.faults.length > 0 && <><p>Fix these errors in Lay out first:</p><Faults
      faults={made.paper.faults} /></>}
    <ul class="hand-over">
      {papers.map(({ what, button, words }) => <li key={what}>
        <p>{words}</p>
        <div class="tools"><button type="button" disabled={busy?.what === what} onClick={() => make(what)}>{button}</button></div>
        {busy?.what === what && <Progress share={busy.share} what="Working" stop={() => stopper.current?.abort()} />}
        {made?.what === what && !made.paper.faults.length && <p class="note">{made.paper.name} is ready.{' '}
          <button type="button" class="go" onClick={() => download(made.paper)}>Download it again</button></p>}
      </li>)}
      <li>
        <p>The review page on paper, or as PDF from the print window.</p>
        <div class="tools"><button type="button" disabled={busy?.what === 'review'} onClick={() => make('review',
          print_page)}>Print the review</button></div>
      </li>
      <li>
        <p>The day as Watch shows it, on paper or as PDF.</p>
        <div class="tools"><button type="button" onClick={print_day}>Print the day in Watch</button></div>
      </li>
    </ul>
  </div>;
}
