// A list of findings: how grave, about what, what is wrong, what would work. The
// gravity is a word and a shape, not a colour alone.

import type { Finding } from '../api.ts'
import { t } from '../show.ts'

const order = ['error', 'warning', 'assumed', 'note'] as const
const shapes = { error: '■', warning: '▲', assumed: '○', note: '·' }

export function Findings({ of, onPick }: { of: readonly Finding[]; onPick?: (f: Finding) => void }) {
  const sorted = [...of].sort((a, b) => order.indexOf(a.severity) - order.indexOf(b.severity))
  return (
    <ul class="findings">
      {sorted.map((f) => (
        <li class={`finding ${f.severity}`}>
          <span class="severity">
            <span aria-hidden="true">{shapes[f.severity]}</span> {t(`finding.${f.severity}`)}
          </span>
          {f.object && (onPick ? <button class="plain" onClick={() => onPick(f)}>{f.object}</button> : <b>{f.object}</b>)}
          <span>{f.what}</span>
          {f.fix && <span class="fix">{f.fix}</span>}
        </li>
      ))}
    </ul>
  )
}
