// The plan as the server gives it: the plan file's own JSON. Lengths are
// millimetres; plan coordinates are x east, y north; face A of a wall is on the
// left when walking from the start of its line to the end.

export type Point = readonly [number, number]

export interface Level {
  id: string
  name?: string
  elevation?: number
  clear_height: number
  floor?: string
  soffit?: string
  deflection?: number
  imposed?: number
  partitions?: number
  floor_parted?: boolean
  floor_depth?: number
  deck?: object
  movement_joints?: { line: Point[]; width?: number }[]
  datum?: Point
}

export interface Structure {
  id: string
  level: string
  kind?: string
  material?: string
  line?: Point[]
  thickness?: number
  outline?: Point[]
}

export interface Room {
  id: string
  level: string
  name?: string
  use?: string
  wet?: string
  outline: Point[]
  found?: boolean // from the walls around it
  climate?: object
}

export interface BuildUp {
  id: string
  name?: string
  frame: { kind: string; stud: string; track?: string; spacing?: number; gap?: number; gusset_height?: number; gusset_spacing?: number }
  face_a?: string[]
  liner?: string
  face_b?: string[]
  insulation?: { product: string; thickness?: number; place?: string }[]
  seal?: string
  finish?: string
}

export interface Demands {
  fire?: string
  sound?: string
  duty?: string
  wet?: string
  pressure?: number
  u_value?: string
}

export interface Opening {
  id?: string
  kind: string
  at: number
  width: number
  height: number
  sill?: number
  leaf_mass?: number
  sound?: string
  service?: string
  diameter?: number
  pocket?: string
  hung_mass?: number
  leaf?: { count?: number; hinge?: string; opens?: string; width?: number; height?: number; frame?: number; frame_depth?: number; fire?: string }
}

export interface Wall {
  id: string
  level: string
  zone?: string
  line: [Point, Point]
  via?: Point
  justify?: string
  buildup?: string
  thickness?: number
  height?: number
  heights?: { at: number; height: number }[]
  start_piece?: object
  end_piece?: object
  stands?: string
  base?: number
  head?: string
  start?: string
  end?: string
  require?: Demands
  openings?: Opening[]
  boxes?: { kind?: string; face: string; at: number; height: number; gangs?: number }[]
  fixings?: { kind: string; face: string; at: number; width?: number; height?: number; mass?: number; lever?: number }[]
  pipes?: { service: string; diameter: number; path: Point[] }[]
  note?: string
}

export interface Junction {
  walls: string[]
  through?: string
  boards?: string
  reason?: string
}

export interface Plan {
  nogging: number
  project?: { name?: string; number?: string; address?: string; client?: string; revision?: string; date?: string }
  practice?: string
  overrides?: Record<string, unknown>
  catalogue?: string[]
  climate?: object
  seismic?: object
  levels: Level[]
  structure?: Structure[]
  rooms?: Room[]
  buildups?: BuildUp[]
  walls: Wall[]
  junctions?: Junction[]
}


// One object put (value) or removed (null).
export interface Change {
  kind: string
  id: string
  at?: number
  value: unknown
}

// What a person did, in words, with the changes that it made.
export interface Edit {
  label: string
  changes: Change[]
}
