// The engine behind the server that gave this page. Long asks are answered by a stream of events: parts, then the answer.

import { AskFailed, type Engine, type FileEntry, type FileText, type Part } from './interface';

async function refusal(response: Response): Promise<AskFailed> {
  const told = await response.json().catch(() => ({})) as { error?: string; hint?: string };
  return new AskFailed(told.error ?? `the program returned error ${response.status}`, told.hint ?? '', response.status);
}
async function reach(path: string, options?: RequestInit): Promise<Response> {
  try {
    return await fetch(path, options);
  } catch (e) {
    if (e instanceof DOMException && e.name === 'AbortError') throw e;
    throw new AskFailed('the program does not respond', 'check that `steadyfire serve` is still running', 0);
  }
}
async function got<T>(response: Response): Promise<T> {
  if (!response.ok) throw await refusal(response);
  return response.json() as Promise<T>;
}

/** Long asks wait in a line: where it is full, once more after a moment. */
async function patient(path: string, options: RequestInit): Promise<Response> {
  const first = await reach(path, options);
  if (first.status !== 503) return first;
  await new Promise(go_on => setTimeout(go_on, 1000));
  return reach(path, options);
}

/** The answer at the end of a stream of events. */
async function listen<T>(body: ReadableStream<Uint8Array>, on?: (part: Part) => void): Promise<T> {
  const reader = body.pipeThrough(new TextDecoderStream() as ReadableWritablePair<string, Uint8Array>).getReader();
  let waiting = '';
  for (;;) {
    const { value, done } = await reader.read();
    if (done) throw new AskFailed('the connection to the program broke', 'try again', 0);
    const events = (waiting + value).split('\n\n');
    waiting = events.pop()!;
    for (const event of events) {
      const [, name, data] = event.match(/^event: (\w+)\ndata: (.*)$/s) ?? [];
      if (name === 'part') on?.(JSON.parse(data) as Part);
      if (name === 'answer') return JSON.parse(data) as T;
      if (name === 'failed') {
        const told = JSON.parse(data) as { error: string; hint: string; status?: number };
        throw new AskFailed(told.error, told.hint, told.status ?? 500);
      }
    }
  }
}

const path_of = (folder: string, name: string) => `${folder}/${name.split('/').map(encodeURIComponent).join('/')}`;
const json = { 'Content-Type': 'application/json' };

export const served: Engine = {
  async ask(name, request, on, stop) {
    const response = await patient(`ask/${name}`, { method: 'POST', headers: json, body: JSON.stringify(request), signal: stop });
    if (!response.ok) throw await refusal(response);
    const is_stream = response.headers.get('Content-Type')?.startsWith('text/event-stream');
    return is_stream ? listen(response.body!, on) : response.json();
  },
  files: async () => got<FileEntry[]>(await reach('files')),
  read: async (name, shipped) => got<FileText>(await reach(path_of(shipped ? 'shipped' : 'files', name))),
  async save(name, text, stamp) {
    const condition: Record<string, string> = stamp == null ? { 'If-None-Match': '*' } : { 'If-Match': `"${stamp}"` };
    const body = JSON.stringify({ text });
    const response = await reach(path_of('files', name), { method: 'PUT', headers: { ...json, ...condition }, body });
    return response.status === 412 ? { changed: await response.json() as FileText } : got(response);
  },
};
