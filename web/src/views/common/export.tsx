// Links to the files that can be taken from the open project.

import { project } from '../../state.ts'
import { t } from '../../show.ts'
import { useLoaded } from './load.ts'

interface Export {
  name: string
  kind: string
}

// The files of one kind: takeoff, order, cutting, price …
export function Downloads({ kind }: { kind: string }) {
  const list = useLoaded<Export[]>('exports').value?.filter((e) => e.kind === kind)
  if (!list?.length) return null
  return (
    <p class="downloads">
      {t('common.download')}:{' '}
      {list.map((e) => (
        <a class="download" href={`/api/projects/${encodeURIComponent(project.value?.id ?? '')}/export/${e.name}`} download={e.name}>
          {e.name}
        </a>
      ))}
    </p>
  )
}
