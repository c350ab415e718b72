// Requirements by the uses of the rooms that walls part: a table of use against
// use. Choosing a pair shows what its walls are asked now; what is set is asked
// of all of them, as one ordinary edit.

import { useState } from 'preact/hooks'
import type { Demands, Plan } from '../../core/plan.ts'
import { demand, wallsOf } from '../../editor/commands.ts'
import { choose, run, say } from '../../editor/session.ts'
import { Dialog } from '../../shell/dialog.tsx'
import { plan } from '../../state.ts'
import { t, word } from '../../show.ts'
import { DemandFields, asked } from './demands.tsx'
import { pairOf, usesIn, wallsBetween } from './uses.ts'
import { shared } from './fields.tsx'

const useName = (u: string) => (u === '' ? t('use.none') : word('use', u))

export function Matrix({ onClose }: { onClose: () => void }) {
  const p = plan.value
  const [pair, setPair] = useState<[string, string] | null>(null)
  if (!p) return null
  const between = wallsBetween(p)
  const uses = usesIn(p)
  return (
    <Dialog title={t('matrix.title')} onClose={onClose} wide>
      {uses.length === 0 ? <p>{t('matrix.nouses')}</p> : <p class="quiet">{t('matrix.what')}</p>}
      <div class="matrix-scroll" tabIndex={0} role="region" aria-label={t('matrix.title')}>
        <table class="matrix">
          <thead>
            <tr>
              <td />
              {uses.map((u) => (
                <th scope="col">{useName(u)}</th>
              ))}
            </tr>
          </thead>
          <tbody>
            {uses.map((row, i) => (
              <tr>
                <th scope="row">{useName(row)}</th>
                {uses.slice(0, i + 1).map((col) => (
                  <td>
                    <Cell plan={p} walls={between.get(pairOf(row, col)) ?? []} pair={[row, col]} chosen={pair !== null && pairOf(...pair) === pairOf(row, col)} onChoose={setPair} />
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {pair && <Pair key={pairOf(...pair)} plan={p} pair={pair} walls={between.get(pairOf(...pair)) ?? []} />}
      <div class="buttons">
        <button onClick={onClose}>{t('shell.close')}</button>
      </div>
    </Dialog>
  )
}

function Cell(p: { plan: Plan; walls: readonly string[]; pair: [string, string]; chosen: boolean; onChoose: (pair: [string, string]) => void }) {
  if (p.walls.length === 0) return <span class="quiet" aria-hidden="true">·</span>
  const all = [...new Set(wallsOf(p.plan, p.walls).map((w) => asked(w.require)))]
  return (
    <button aria-pressed={p.chosen} onClick={() => p.onChoose(p.pair)}>
      <span class="hidden-text">{t('matrix.cell', { a: useName(p.pair[0]), b: useName(p.pair[1]), n: p.walls.length })}</span>
      <b>{p.walls.length}</b> <small>{all.length === 1 ? all[0] || t('matrix.notasked') : t('field.mixed')}</small>
    </button>
  )
}

function Pair({ plan: p, pair, walls }: { plan: Plan; pair: [string, string]; walls: readonly string[] }) {
  const [wanted, setWanted] = useState<Demands>({})
  const on = wallsOf(p, walls)
  const keys = ['fire', 'sound', 'duty', 'wet', 'pressure', 'u_value'] as const
  const values = Object.fromEntries(keys.map((k) => [k, k in wanted ? wanted[k] : shared(on, (w) => w.require?.[k])]))
  const label = (key: string, v?: Record<string, string | number>) => (key === 'edit.demand' ? t('edit.demand.between', { a: useName(pair[0]), b: useName(pair[1]), n: walls.length }) : say(key, v))
  return (
    <fieldset class="demand-pair">
      <legend>{t('matrix.pair', { a: useName(pair[0]), b: useName(pair[1]) })}</legend>
      <p class="quiet">{walls.join(', ')}</p>
      <div class="entries two">
        <DemandFields of={values} onChange={(k, v) => setWanted({ ...wanted, [k]: v ?? '' })} />
      </div>
      <div class="buttons">
        <button class="main" disabled={Object.keys(wanted).length === 0} onClick={() => (run(demand(p, label, walls, wanted)), setWanted({}))}>
          {t('matrix.apply', { n: walls.length })}
        </button>
        <button onClick={() => choose(walls)}>{t('matrix.select')}</button>
      </div>
    </fieldset>
  )
}
