// The place "Wall": its drawings at the left, the one chosen in the middle, the parts
// and what is known of the one picked at the right. The address keeps wall, view and
// part, so that others can point at a part.

import { useState } from 'preact/hooks'
import { lazy } from '../common/later.tsx'
import { plan, project, route, selection } from '../../state.ts'
import { href, refine } from '../../route.ts'
import { lengthUnit, t } from '../../show.ts'
import { units } from '../../preferences.ts'
import { Findings } from '../../shell/findings.tsx'
import { Checks } from '../common/derivation.tsx'
import { Caution } from '../common/caution.tsx'
import { useLoaded } from '../common/load.ts'
import { Loading } from '../common/waiting.tsx'
import { ChoicePanel } from '../choice/panel.tsx'
import { WallChooser } from './chooser.tsx'
import { Detail } from './detail.tsx'
import { FitEditor } from './fit/editor.tsx'
import { Drawing, layerName } from './drawing.tsx'
import { PartList } from './partlist.tsx'
import { ViewList, viewName } from './viewlist.tsx'
import { layerOf, viewOf } from './types.ts'
import type { Part, View, WallView } from './types.ts'

const Solid = lazy(() => import('../solid/stage.tsx'))

export default function WallPlace() {
  const q = route.value.query
  const wall = q.wall ?? selection.value[0] ?? plan.value?.walls.find((w) => w.level === (q.level ?? w.level))?.id
  const loaded = useLoaded<WallView>(wall === undefined ? null : `walls/${encodeURIComponent(wall)}`)
  if (wall === undefined) return <p class="padded quiet">{t('wall.none')}</p>
  return (
    <div class="wall-place">
      <header class="place-head">
        <h1>{t('wall.title', { wall })}</h1>
        <WallChooser wall={wall} />
        {loaded.value && <Facts of={loaded.value} />}
      </header>
      <Loading of={loaded}>{(v) => (v.views.length > 0 || route.value.query.show === 'fit' ? <Looked at={v} key={wall} /> : <NotLaid of={v} />)}</Loading>
    </div>
  )
}

// A wall that could not be laid out, with what keeps it from that.
function NotLaid({ of: v }: { of: WallView }) {
  return (
    <div class="padded">
      <p>{t('wall.notlaid')}</p>
      <Findings of={v.findings ?? []} />
      <p><a href={href(project.value?.id ?? null, 'wall', { ...route.value.query, show: 'fit' })}>{t('wall.view.fit')}</a></p>
    </div>
  )
}

function Facts({ of: v }: { of: WallView }) {
  return (
    <p class="facts">
      <span>{t('walls.buildup')}: <b>{v.build_up}</b></span>
      <span>{t('walls.length')} <b>{lengthUnit(v.length)}</b></span>
      <span>{t('walls.height')} <b>{lengthUnit(v.height)}</b></span>
      <span>{t('wall.thickness')} <b>{lengthUnit(v.thickness)}</b></span>
      <a href={href(project.value?.id ?? null, 'plan', { wall: v.wall.id, level: v.level })}>{t('wall.onplan')}</a>
    </p>
  )
}

function Looked({ at: v }: { at: WallView }) {
  const show = route.value.query.show ?? v.views[0]?.id ?? ''
  const part = v.parts.find((p) => p.id === route.value.query.part) ?? null
  const [hovered, setHovered] = useState<string | null>(null)
  const view = v.views.find((x) => x.id === show)
  const pick = (id: string | null) => refine({ part: id ?? undefined })
  // A part that the drawing does not show is looked at where it is drawn.
  const pickListed = (p: Part) => refine({ part: p.id, show: show === 'solid' ? show : viewOf(p, v.views) ?? show })
  if (show === 'choice') return <Sided views={v.views} show={show}><ChoicePanel wall={v.wall.id} /></Sided>
  if (show === 'fit') return <Sided views={v.views} show={show}><FitEditor wall={v.wall.id} /></Sided>
  if (show === 'proof') {
    return (
      <Sided views={v.views} show={show}>
        <div class="panel scroll">
          <Caution />
          {v.findings && v.findings.length > 0 && <Findings of={v.findings} />}
          <Checks of={v.proof?.checks ?? []} />
        </div>
      </Sided>
    )
  }
  return (
    <Sided views={v.views} show={show}>
      {show === 'solid' ? (
        <Solid scope={{ wall: v.wall.id }} picked={part && { wall: v.wall.id, part: part.id }} onPick={(at) => pick(at?.part ?? null)} instead={<Elevation v={v} view={v.views[0]} part={part} hovered={hovered} onPick={pick} onHover={setHovered} />} />
      ) : (
        <Elevation v={v} view={view} part={part} hovered={hovered} onPick={pick} onHover={setHovered} />
      )}
      <aside class="beside" aria-label={t('wall.part')}>
        <Detail part={part ?? v.parts.find((p) => p.id === hovered) ?? null} />
        <PartList parts={v.parts} layer={show === 'solid' ? null : layerOf(view)} picked={part?.id ?? null} hovered={hovered} onPick={pickListed} onHover={setHovered} />
      </aside>
    </Sided>
  )
}

function Sided({ views, show, children }: { views: readonly View[]; show: string; children: preact.ComponentChildren }) {
  return (
    <div class={`wall-body ${show === 'choice' || show === 'proof' ? 'wide' : ''}`}>
      <ViewList views={views} show={show} />
      {children}
    </div>
  )
}

interface ElevationProps {
  v: WallView
  view: View | undefined
  part: Part | null
  hovered: string | null
  onPick: (id: string | null) => void
  onHover: (id: string | null) => void
}

function Elevation({ v, view, part, hovered, onPick, onHover }: ElevationProps) {
  const svg = useLoaded<string>(view ? `walls/${encodeURIComponent(v.wall.id)}/drawing.svg?view=${view.id}&units=${units.value}` : null)
  const [layers, setLayers] = useState<string[]>([])
  const [hidden, setHidden] = useState<ReadonlySet<string>>(new Set())
  const toggle = (name: string) => {
    const next = new Set(hidden)
    if (!next.delete(name)) next.add(name)
    setHidden(next)
  }
  return (
    <div class="elevation">
      <Loading of={svg}>
        {(text) => (
          <Drawing svg={text} wall={v.wall.id} label={`${t('wall.title', { wall: v.wall.id })}, ${view ? viewName(view) : ''}`} picked={part?.id ?? null} hovered={hovered} hidden={hidden} onPick={onPick} onHover={onHover} onLayers={setLayers} />
        )}
      </Loading>
      <fieldset class="layers">
        <legend class="hidden-text">{t('wall.layers')}</legend>
        {layers.map((name) => (
          <label>
            <input type="checkbox" checked={!hidden.has(name)} onChange={() => toggle(name)} /> {layerName(name)}
          </label>
        ))}
      </fieldset>
    </div>
  )
}
