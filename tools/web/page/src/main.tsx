// The page: one row of places to go, the file and its steps, and the view that is shown.

import 'uplot/dist/uPlot.min.css';
import './page.css';
import { render } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import { Compare } from './compare';
import { HandOver } from './hand_over';
import { LayOut } from './lay_out';
import { Failed, type ViewProps } from './parts';
import { Opening } from './opening';
import { address_of, engine, is_unsaved, scenario_of, settled, store, useStore, views, type State, type View } from './store';
import { Teach } from './teach';
import { Tune } from './tune';
import { Watch } from './watch';

const edit: ViewProps['edit'] = edits => void store.edit(edits);

function Place({ state }: { state: State }) {
  const given = { engine, scenario: scenario_of(state), edit };
  switch (state.view) {
    case 'lay-out': return <LayOut state={state} />;
    case 'watch': return <Watch {...given} />;
    case 'compare': return <Compare {...given} />;
    case 'tune': return <Tune {...given} />;
    case 'teach': return <Teach {...given} />;
    case 'hand-over': return <HandOver {...given} />;
  }
}

/** A name for the file: of a new scenario, of a shipped one that was changed, or another one. */
function SaveAs({ state, close }: { state: State; close: () => void }) {
  const { opened, taken } = state, dialog = useRef<HTMLDialogElement>(null);
  const [name, set_name] = useState(opened!.name ? (opened!.shipped ? opened!.name : opened!.name.replace(/\.toml$/, '_2.toml'))
    : 'my_house.toml');
  useEffect(() => {
    dialog.current!.showModal();
    return () => store.forget_taken();
  }, []);
  const full = name.trim().endsWith('.toml') ? name.trim() : `${name.trim()}.toml`;
  const save = async (over?: string) => { if (await store.save(full, over)) close(); };
  return <dialog ref={dialog} aria-labelledby="save-as" onClose={close}>
    <form onSubmit={e => { e.preventDefault(), void save(); }}>
      <h2 id="save-as">Save as</h2>
      <label>File name, in this folder
        <input type="text" value={name} required onInput={e => { set_name(e.currentTarget.value), store.forget_taken(); }} />
      </label>
      {taken && <p class="alarm" role="alert">{taken.name} already exists. Choose another name, or replace it.</p>}
      {state.failed && <Failed failed={state.failed} />}
      <div class="tools">
        <button class="main" type="submit">Save</button>
        {taken && <button type="button" onClick={() => save(taken.stamp)}>Replace it</button>}
        <button type="button" onClick={close}>Cancel</button>
      </div>
    </form>
  </dialog>;
}

function Changed({ state, save_as }: { state: State; save_as: () => void }) {
  const { changed } = state, notice = useRef<HTMLDivElement>(null);
  useEffect(() => notice.current?.focus(), [changed]);
  if (!changed) return null;
  const is_gone = !changed.stamp;
  return <div class="notice" role="alert" tabIndex={-1} ref={notice}>
    <p><b>{changed.name}</b> {is_gone ? 'was deleted after you opened it.' : 'was changed by someone else after you opened it.'}{' '}
      Your work is not lost. What do you want to do?</p>
    <div class="tools">
      <button type="button" onClick={save_as}>Save mine as…</button>
      {!is_gone && <button type="button" onClick={store.take_theirs}>Load theirs</button>}
      <button type="button" onClick={() => void store.write_over()}>{is_gone ? 'Save it again' : 'Overwrite with mine'}</button>
    </div>
  </div>;
}

function Page() {
  const state = useStore(), { opened } = state, unsaved = is_unsaved(state);
  const [is_saving, set_saving] = useState(false), [is_leaving, set_leaving] = useState(false);
  const title = state.look?.title ?? (opened?.name || 'New scenario');
  const save = () => {
    const now = store.state();
    if (!now.opened) return;
    if (!now.opened.name || now.opened.shipped) set_saving(true);
    else void store.save();
  };
  useEffect(() => {
    document.title = opened ? `${unsaved ? '• ' : ''}${title}: ${views[state.view]}` : 'Steadyfire';
  }, [title, state.view, unsaved, opened]);
  useEffect(() => {
    const key = (e: KeyboardEvent) => {
      if (!(e.ctrlKey || e.metaKey) || e.altKey || !store.state().opened) return;
      const k = e.key.toLowerCase(), act = k === 's' ? save : k === 'y' || (k === 'z' && e.shiftKey) ? store.redo : k === 'z' ? store.undo
        : undefined; // in fields too: a step holds what was typed
      const is_naming = !!document.querySelector('dialog[open]'); // there a step back is of the name
      if (!act || (is_naming && act !== save)) return;
      e.preventDefault();
      if (!is_naming) act();
    };
    addEventListener('keydown', key);
    return () => removeEventListener('keydown', key);
  }, []);
  const leave = async () => {
    await settled();
    if (is_unsaved(store.state())) set_leaving(true);
    else void store.close();
  };

  return <>
    <header class="bar">
      {opened ? <>
        <p class="what"><span class="title">{title}</span>
          <span class="note">{opened.name || 'not saved yet'}{opened.shipped && ', built-in lesson'}{unsaved
            && opened.name && ', unsaved changes'}</span></p>
        <div class="row">
          <nav aria-label="Views"><ul class="places">{Object.entries(views).map(([view, words]) => <li key={view}>
            <a href={address_of(state, view as View)} aria-current={view === state.view ? 'page' : undefined}>{words}</a>
          </li>)}</ul></nav>
          <div class="tools" role="group" aria-label="The scenario">
            <button type="button" disabled={state.at === 0} onClick={store.undo}>Undo</button>
            <button type="button" disabled={state.at === state.texts.length - 1} onClick={store.redo}>Redo</button>
            <button type="button" onClick={save}>Save</button>
            <button type="button" onClick={() => set_saving(true)}>Save as</button>
            <button type="button" onClick={leave}>Open another</button>
            <label>Units <select value={state.units} onChange={e => store.units(e.currentTarget.value as State['units'])}>
              <option value="us">US</option><option value="si">SI</option>
            </select></label>
          </div>
        </div>
      </> : <p class="what"><span class="title">Steadyfire</span> <span class="note">hydronic heating, laid out and explained</span></p>}
      <p class="says" role="status" aria-live="polite">{state.said}</p>
      <Changed state={state} save_as={() => set_saving(true)} />
      {is_leaving && <div class="notice" role="alert">
        <p>Your changes are not saved. This browser keeps them until you open the file again.</p>
        <div class="tools">
          <button type="button" onClick={() => { set_leaving(false), save(); }}>Save first</button>
          <button type="button" onClick={() => { set_leaving(false), void store.close(); }}>Leave without saving</button>
          <button type="button" onClick={() => set_leaving(false)}>Stay here</button>
        </div>
      </div>}
    </header>
    <main id="main">
      {state.failed && !is_saving && <Failed failed={state.failed} />}
      {state.description && (opened ? <Place key={`${opened.file}`} state={state} /> : <Opening state={state} />)}
    </main>
    {state.description && <footer>
      <p>{state.description.caution}</p>
      <p>Steadyfire {state.description.version}</p>
    </footer>}
    {is_saving && opened && <SaveAs state={state} close={() => set_saving(false)} />}
  </>;
}

render(<Page />, document.getElementById('page')!);
void store.start();
