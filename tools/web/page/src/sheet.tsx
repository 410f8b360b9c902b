// The sheet at the side: a piece of the drawing or a table of the file, its figures and its values.

import { useEffect, useRef } from 'preact/hooks';
import { Fields, Name, spaced, Wrong, written_at } from './fields';
import { Figures, printed } from './parts';
import { faults_at, store, type State } from './store';

export function Sheet({ state }: { state: State }) {
  const { chosen, look, description } = state, heading = useRef<HTMLHeadingElement>(null), came_from = useRef<Element | null>(null);
  const key = JSON.stringify(chosen);
  const close = () => {
    const { chosen: was } = store.state(), from = came_from.current;
    store.choose(undefined);
    const back = was && 'piece' in was ? document.getElementById(`piece:${was.piece}`) : from;
    (back as HTMLElement | null)?.focus?.();
  };
  useEffect(() => {
    if (!chosen) return;
    if (!document.activeElement?.closest('.sheet')) came_from.current = document.activeElement;
    if ('piece' in chosen) document.getElementById(`piece:${chosen.piece}`)?.scrollIntoView({ block: 'nearest', inline: 'nearest' });
    heading.current?.focus({ preventScroll: true });
  }, [key]);
  useEffect(() => {
    const escape = (e: KeyboardEvent) => {
      if (e.key === 'Escape' && store.state().chosen && !document.querySelector('dialog[open]')) close();
    };
    addEventListener('keydown', escape);
    return () => removeEventListener('keydown', escape);
  }, []);
  if (!chosen || !look || !description) return null;
  const { kinds } = description, { tables, faults } = look;

  const piece = 'piece' in chosen ? look.pieces?.find(p => p.id === chosen.piece) : undefined;
  const table = 'table' in chosen ? tables.find(t => t.table === chosen.table && t.index === chosen.index) : undefined;
  const kind = kinds.find(k => k.name === (piece?.kind ?? table?.kind)), at = piece?.at ?? (table && { table: table.table,
    index: table.index, path: [] });
  const of_table = piece && !piece.at.path.length ? kinds.find(k => k.table === piece.at.table) : undefined;
  const said_by = of_table && of_table !== kind ? of_table : undefined; // it has no table of its own
  const name = piece?.label ?? (table?.name || table?.kind || 'This piece');
  return <aside class="sheet" aria-label={`Values of ${name}`}>
    <header>
      <h2 tabIndex={-1} ref={heading}>{name}</h2>
      <button type="button" onClick={close}>Close</button>
    </header>
    {!at && <p>This is no longer in the scenario.</p>}
    {kind && <p class="note">{kind.name}{piece?.zone && `, in ${piece.zone}`}: {kind.summary}</p>}
    {table?.name && kind?.home === 'repeated' && <p><label>name <Name table={table.table} index={table.index}
      name={table.name} label={`Name of ${name}`} /></label></p>}
    {piece && piece.figures.length > 0 && <><h3>Now</h3><div class={state.is_old ? 'is-old' : ''}>
      <Figures of={piece.figures} label={`Figures of ${name}`} /></div></>}
    {at && kind && <>
      <h3>Values</h3>
      {state.is_unread && <p class="wrong">The file text cannot be read. Fix it there, or undo;
        then values can be changed again.</p>}
      {said_by && <>
        <Figures of={piece!.taken.map(t => ({ name: spaced(t.key), words: printed(t.words) }))} label={`Values of ${name}`} />
        <p class="note">These follow from the values of {said_by.name}:</p>
      </>}
      {piece && !piece.is_stated && <p class="note">Not in the file yet. What you enter is added.</p>}
      <Wrong faults={faults_at(faults, at)} id="wrong-sheet" />
      <Fields key={key} kind={said_by ?? kind} at={at} values={written_at(tables, at)} taken={said_by ? [] : piece?.taken} kinds={kinds}
        faults={faults} joints={!look.is_house && !at.path.length} />
    </>}
  </aside>;
}
