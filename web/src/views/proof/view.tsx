// The place "Proof": walls against what is asked of them. Each cell says its outcome
// in words and opens how it was found.

import { useMemo, useState } from 'preact/hooks'
import { href, refine, route } from '../../route.ts'
import { plan, project } from '../../state.ts'
import { number, t, word } from '../../show.ts'
import { Caution } from '../common/caution.tsx'
import { Checks } from '../common/derivation.tsx'
import { useLoaded } from '../common/load.ts'
import { needs } from '../common/proof.ts'
import type { ProofRow } from '../common/proof.ts'
import type { WallView } from '../wall/types.ts'
import { Table } from '../common/table.tsx'
import type { Column } from '../common/table.tsx'
import { Verdict, gravity, worst } from '../common/verdict.tsx'
import type { Outcome } from '../common/verdict.tsx'
import { Loading } from '../common/waiting.tsx'

export default function ProofPlace() {
  const loaded = useLoaded<ProofRow[]>('proof')
  return (
    <div class="proof-place">
      <Loading of={loaded}>{(list) => <Proofs of={list} />}</Loading>
    </div>
  )
}

// The checks of one cell with how they were found.
function Derived({ wall, need }: { wall: string; need: string }) {
  const loaded = useLoaded<WallView>(`walls/${encodeURIComponent(wall)}`)
  return <Loading of={loaded}>{(v) => <Checks of={v.proof?.checks.filter((c) => c.need === need) ?? []} />}</Loading>
}

interface Filter {
  state: Outcome | ''
  need: string
  level: string
  text: string
  asked: boolean // only what is asked counts
}

const cellOf = (p: ProofRow, need: string, asked: boolean) => p.checks.filter((c) => c.need === need && (!asked || c.asked))
const outcome = (p: ProofRow, need: string, asked: boolean) => worst(cellOf(p, need, asked).map((c) => c.verdict))

function Proofs({ of: all }: { of: readonly ProofRow[] }) {
  const [filter, setFilter] = useState<Filter>({ state: '', need: '', level: '', text: '', asked: true })
  const { wall, need } = route.value.query
  const rows = useMemo(() => all.filter((p) => passes(p, filter)), [all, filter])
  const open = all.find((p) => p.wall === wall)
  const counts = useMemo(() => tally(all, filter.asked), [all, filter.asked])
  const columns: Column<ProofRow>[] = [
    { id: 'wall', head: t('proof.wall'), by: (p) => p.wall, cell: (p) => <a class="once" href={href(project.value?.id ?? null, 'wall', { wall: p.wall, show: 'proof' })}>{p.wall}</a> },
    { id: 'buildup', head: t('walls.buildup'), by: (p) => p.build_up, cell: (p) => p.build_up },
    { id: 'asked', head: t('proof.demanded'), by: (p) => p.asked.join(', '), cell: (p) => <span class="once" lang="en">{p.asked.join(', ')}</span> },
    ...needs.map((n): Column<ProofRow> => ({
      id: n, head: word('need', n), by: (p) => gravity(outcome(p, n, filter.asked)),
      cell: (p) => <Cell of={p} need={n} asked={filter.asked} open={p.wall === wall && n === need} />,
    })),
  ]
  return (
    <div class={`split ${open && need ? 'opened' : ''}`}>
      <div class="split-main">
        <header class="place-head">
          <h1>{t('proof.title')}</h1>
          <p class="facts">
            {counts.map(([o, n]) => <span><Verdict of={o} /> <b>{number(n)}</b></span>)}
          </p>
        </header>
        <Caution />
        <Filters of={filter} onSet={setFilter} shown={rows.length} />
        <Table caption={t('proof.title')} columns={columns} rows={rows} id={(p) => p.wall} rowClass={(p) => (p.wall === wall ? 'picked' : '')} />
      </div>
      {open && need && (
        <aside class="beside" aria-label={t('proof.derivation')}>
          <header class="place-head">
            <h2>{t('wall.title', { wall: open.wall })}: {word('need', need)}</h2>
            <button onClick={() => refine({ need: undefined })}>{t('shell.close')}</button>
          </header>
          <Derived wall={open.wall} need={need} />
        </aside>
      )}
    </div>
  )
}

function passes(p: ProofRow, f: Filter): boolean {
  const text = `${p.wall} ${p.build_up} ${p.asked.join(' ')}`.toLowerCase()
  const looked = f.need ? [f.need] : [...needs]
  const stated = f.state === '' || looked.some((n) => outcome(p, n, f.asked) === f.state)
  return stated && (f.level === '' || p.level === f.level) && text.includes(f.text.toLowerCase())
}

// How many cells there are of each outcome.
function tally(all: readonly ProofRow[], asked: boolean): [Outcome, number][] {
  const n: Record<Outcome, number> = { fails: 0, 'not proven': 0, passes: 0, shown: 0 }
  for (const p of all) {
    for (const need of needs) {
      const o = outcome(p, need, asked)
      if (o) n[o]++
    }
  }
  return (['fails', 'not proven', 'passes'] as const).map((o) => [o, n[o]])
}

function Cell({ of: p, need, asked, open }: { of: ProofRow; need: string; asked: boolean; open: boolean }) {
  const list = cellOf(p, need, asked)
  const o = worst(list.map((c) => c.verdict))
  if (!o) return <span class="quiet"><span aria-hidden="true">–</span><span class="hidden-text">{t('proof.notasked')}</span></span>
  // A use is told where the method holds; elsewhere it stands with what is missing.
  const use = o === 'not proven' ? 0 : Math.max(0, ...list.map((c) => c.use ?? 0))
  const got = use > 0 || need === 'structure' ? undefined : list.find((c) => c.verdict === o && c.got && !c.got.startsWith('missing'))?.got
  return (
    <button class={`cell wash-${o.replace(' ', '_')}`} aria-pressed={open} onClick={() => refine({ wall: p.wall, need })}>
      <Verdict of={o} />
      {use > 0 && <span class="quiet"> {number(use * 100)} %</span>}
      {got && got.length <= 20 && <span class="quiet" lang="en"> {got}</span>}
    </button>
  )
}

function Filters({ of: f, onSet, shown }: { of: Filter; onSet: (f: Filter) => void; shown: number }) {
  return (
    <form class="filters" aria-label={t('proof.filter')} onSubmit={(e) => e.preventDefault()}>
      <label>
        {t('proof.filter.state')}
        <select value={f.state} onChange={(e) => onSet({ ...f, state: e.currentTarget.value as Outcome })}>
          <option value="">{t('proof.filter.all')}</option>
          {(['fails', 'not proven', 'passes', 'shown'] as const).map((o) => <option value={o}>{t(`verdict.${o}`)}</option>)}
        </select>
      </label>
      <label>
        {t('proof.filter.need')}
        <select value={f.need} onChange={(e) => onSet({ ...f, need: e.currentTarget.value })}>
          <option value="">{t('proof.filter.all')}</option>
          {needs.map((n) => <option value={n}>{word('need', n)}</option>)}
        </select>
      </label>
      <label>
        {t('proof.filter.level')}
        <select value={f.level} onChange={(e) => onSet({ ...f, level: e.currentTarget.value })}>
          <option value="">{t('proof.filter.all')}</option>
          {plan.value?.levels.map((l) => <option value={l.id}>{l.name || l.id}</option>)}
        </select>
      </label>
      <label>
        {t('proof.filter.text')}
        <input type="search" value={f.text} onInput={(e) => onSet({ ...f, text: e.currentTarget.value })} />
      </label>
      <label class="tick">
        <input type="checkbox" checked={f.asked} onChange={() => onSet({ ...f, asked: !f.asked })} /> {t('proof.filter.asked')}
      </label>
      <output>{t('proof.filter.shown', { n: shown })}</output>
    </form>
  )
}
