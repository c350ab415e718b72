// The plan: tools above, the drawing in the middle, what is selected beside it.

import type { ComponentType } from 'preact'
import { useEffect, useState } from 'preact/hooks'
import { Drawing } from '../../editor/canvas.tsx'
import { globalKey } from '../../editor/keys.ts'
import { choose, picked, tool, use } from '../../editor/session.ts'
import { plan, selection } from '../../state.ts'
import { incomingTable, takeInHand } from '../../incoming.ts'
import { route } from '../../route.ts'
import { t } from '../../show.ts'
import { failed } from '../../sync.ts'
import { LevelPanel } from './levelpanel.tsx'
import { OpeningPanel, RoomPanel, StructurePanel } from './otherpanels.tsx'
import { StatusLine } from './statusline.tsx'
import { ToolPanel } from './toolpanel.tsx'
import { Corner, Toolbar } from './toolbar.tsx'
import { takePicture } from './underlaypanel.tsx'
import { WallPanel } from './wallpanel.tsx'

export default function PlanView() {
  useEffect(() => {
    const { wall } = route.value.query
    if (wall && selection.value.length === 0) choose([wall])
    const keys = (e: KeyboardEvent) => {
      const field = e.target instanceof HTMLElement && e.target.matches('input, textarea, select')
      if (!field && !e.defaultPrevented && globalKey(e)) e.preventDefault()
    }
    addEventListener('keydown', keys)
    return () => removeEventListener('keydown', keys)
  }, [])
  return (
    <div class="plan" onDragOver={(e) => e.preventDefault()} onDrop={dropped}>
      <Toolbar />
      <div class="plan-middle">
        <Drawing />
        <Corner />
      </div>
      <StatusLine />
      <aside class="side" aria-label={t('plan.side')}>
        <Side />
      </aside>
      <Table />
    </div>
  )
}

// A schedule or a survey, looked at by code that is loaded when there is one.
function Table() {
  const [Dialog, setDialog] = useState<ComponentType<{ file: File; onClose: () => void }> | null>(null)
  const file = incomingTable.value
  useEffect(() => {
    if (file && !Dialog) void import('../intake/dialog.tsx').then((m) => setDialog(() => m.default), failed)
  }, [file])
  return file && Dialog ? <Dialog key={file} file={file} onClose={() => (incomingTable.value = null)} /> : null
}

function dropped(e: DragEvent): void {
  e.preventDefault()
  const f = e.dataTransfer?.files[0]
  if (!f) return
  if (takeInHand(f, route.value.project)) return
  use('underlay')
  void takePicture(f)
}

function Side() {
  const it = picked.value
  if (tool.value !== 'pick' && !(it && tool.value === 'room')) return <ToolPanel />
  if (it?.kind === 'opening') return <OpeningPanel key={`${it.wall} ${it.index}`} wall={it.wall} index={it.index} />
  if (it?.kind === 'structure') return <StructurePanel key={it.id} id={it.id} />
  if (it?.kind === 'room') return <RoomPanel key={it.id} id={it.id} />
  const known = new Set(plan.value?.walls.map((w) => w.id))
  return selection.value.some((id) => known.has(id)) ? <WallPanel key={selection.value.join()} /> : <LevelPanel />
}
