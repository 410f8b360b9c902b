// The variants to compare, kept while the page is open: each is a whole text of its own.

import { useEffect, useState } from 'preact/hooks';
import type { Comparison } from './interface';

export interface Variant {
  id: number;
  name: string;
  text: string;
  file: string;
}
export interface Variants {
  list: Variant[];
  /** Of the list as it was then. */
  comparison?: Comparison;
  compared?: Variant[];
}
let now: Variants = { list: [] }, next_id = 1;
const hearers = new Set<(v: Variants) => void>();
const set = (changed: Partial<Variants>) => {
  now = { ...now, ...changed };
  hearers.forEach(hear => hear(now));
};

export const variants = {
  add(name: string, text: string, file: string) {
    const taken = (n: string) => now.list.some(v => v.name === n);
    let free = name;
    for (let k = 2; taken(free); ++k) free = `${name} (${k})`;
    set({ list: [...now.list, { id: next_id++, name: free, text, file }] });
  },
  rename: (id: number, name: string) => set({ list: now.list.map(v => v.id === id ? { ...v, name } : v) }),
  remove: (id: number) => set({ list: now.list.filter(v => v.id !== id) }),
  compared: (comparison: Comparison, compared: Variant[]) => set({ comparison, compared }),
};
export function useVariants(): Variants {
  const [state, hear] = useState(now);
  useEffect(() => {
    hearers.add(hear);
    hear(now);
    return () => { hearers.delete(hear); };
  }, []);
  return state;
}
