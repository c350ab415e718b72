package plantest

// situations is the table, group by group. Sizes are invented.
var situations = []row{

	// frames
	{name: "single-one-layer", what: "single frame, one layer a face", between: 3000, walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: one}`},
	{name: "single-two-layers", what: "single frame, two layers a face", between: 3000, walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: two}`},
	{name: "single-three-layers", what: "single frame, three layers a face", between: 3000, walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: three}`},
	{name: "faces-differ", what: "two layers on face A, one on face B", between: 3000, walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: mixed}`},
	{name: "no-fill", what: "single frame of the smallest stud, without fill", between: 3000, walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: bare}`},
	{name: "two-fills", what: "two products of fill in one frame", between: 3000, walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: fills}`},
	{name: "close-studs", what: "studs at 400 mm", between: 3000, walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: close}`},
	{name: "twin-independent", what: "two frames without any tie, isolating strip between them", between: 3000, walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: twin}`},
	{name: "twin-braced", what: "two frames tied by gussets round a service space", between: 3000, walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: braced}`},
	{name: "lining", what: "independent lining in front of a wall", between: 3000, walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: lining}`},
	{name: "shaft", what: "shaft wall, boarded from one side", between: 3000, walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: shaft}`},
	{name: "furring", what: "furring channels on brackets in front of a wall", between: 3000, structure: `
  - {id: S-1, level: L1, kind: wall, material: masonry, thickness: 200, line: [[0, -130], [3000, -130]]}`, walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], justify: face_b, buildup: furring}`},
	{name: "shaft-liner", what: "shaft wall with a liner between the studs", between: 3000, walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: liner}`},
	{name: "wet-room", what: "impregnated boards, sealed with sealant", between: 3000, walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: wet}`},

	// heights
	{name: "parapet", what: "stops below the soffit, free top", between: 3000, walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: one, height: 1100, head: free}`},
	{name: "half-height", what: "free top and free end", walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: two, height: 1500, head: free, start: structure, end: free}`},
	{name: "sloping", what: "soffit that slopes", between: 3000, walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: one, heights: [{at: 0, height: 2300}, {at: 3000, height: 3300}]}`},
	{name: "ridge", what: "soffit that rises and falls", between: 3600, walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3600, 0]], buildup: two, heights: [{at: 0, height: 2400}, {at: 1700, height: 3200}, {at: 3600, height: 2600}]}`},
	{name: "stepped", what: "soffit with a step", between: 3600, walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3600, 0]], buildup: one, heights: [{at: 0, height: 3000}, {at: 1600, height: 3000}, {at: 1600, height: 2400}, {at: 3600, height: 2400}]}`},
	{name: "cross-joints", what: "higher than the longest board", between: 3600, level: "clear_height: 4300", walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3600, 0]], buildup: two}`},
	{name: "spliced-studs", what: "higher than the longest stud", between: 3600, level: "clear_height: 7200", walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3600, 0]], buildup: high}`},

	// junctions
	{name: "tee", what: "a wall square against another", walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: two, start: structure, end: structure}
  - {id: L1-02, level: L1, line: [[1400, 0], [1400, -2000]], buildup: one, end: structure}`},
	{name: "tee-60", what: "a wall at 60 degrees against another", walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: two, start: structure, end: structure}
  - {id: L1-02, level: L1, line: [[1400, 0], [2555, -2000]], buildup: one, end: structure}`},
	{name: "tee-45", what: "a wall at 45 degrees against another", walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: one, start: structure, end: structure}
  - {id: L1-02, level: L1, line: [[1400, 0], [3400, -2000]], buildup: one, end: structure}`},
	{name: "tee-both-sides", what: "two walls against one, opposite each other", walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: two, start: structure, end: structure}
  - {id: L1-02, level: L1, line: [[1500, 0], [1500, -1800]], buildup: one, end: structure}
  - {id: L1-03, level: L1, line: [[1500, 0], [1500, 1800]], buildup: bare, end: structure}`},
	{name: "tee-asked", what: "a wall of which sound is asked, against one with less asked", walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: two, start: structure, end: structure}
  - {id: L1-02, level: L1, line: [[1400, 0], [1400, -2000]], buildup: two, end: structure, require: {sound: Rw 55}}`},
	{name: "tee-on-twin", what: "a single frame against a twin one", walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: twin, start: structure, end: structure}
  - {id: L1-02, level: L1, line: [[1400, 0], [1400, -2000]], buildup: one, end: structure}`},
	{name: "twin-on-tee", what: "a twin frame against a single one", walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: two, start: structure, end: structure}
  - {id: L1-02, level: L1, line: [[1400, 0], [1400, -2000]], buildup: twin, end: structure}`},
	{name: "corner", what: "two walls at a right angle", walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [2400, 0]], buildup: two, start: structure}
  - {id: L1-02, level: L1, line: [[2400, 0], [2400, -2000]], buildup: two, end: structure}`},
	{name: "corner-differs", what: "two walls of different thickness at a right angle", walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [2400, 0]], buildup: three, start: structure}
  - {id: L1-02, level: L1, line: [[2400, 0], [2400, -2000]], buildup: one, end: structure}`},
	{name: "corner-acute", what: "two walls at 60 degrees", walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [2400, 0]], buildup: one, start: structure}
  - {id: L1-02, level: L1, line: [[2400, 0], [1400, -1732]], buildup: one, end: structure}`},
	{name: "corner-obtuse", what: "two walls at 135 degrees", walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [2400, 0]], buildup: two, start: structure}
  - {id: L1-02, level: L1, line: [[2400, 0], [3800, -1400]], buildup: two, end: structure}`},
	{name: "corner-asked", what: "the wall of which fire is asked runs through", walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [2400, 0]], buildup: one, start: structure}
  - {id: L1-02, level: L1, line: [[2400, 0], [2400, -2000]], buildup: three, end: structure, require: {fire: EI 90}}`},
	{name: "corner-ordered", what: "a corner where the plan says which wall runs through", walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [2400, 0]], buildup: three, start: structure}
  - {id: L1-02, level: L1, line: [[2400, 0], [2400, -2000]], buildup: one, end: structure}`,
		more: `junctions:
  - {walls: [L1-01, L1-02], through: L1-02}`},
	{name: "crossing", what: "two walls that cross square", walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: two, start: structure, end: structure}
  - {id: L1-02, level: L1, line: [[1500, -1500], [1500, 1500]], buildup: one, start: structure, end: structure}`},
	{name: "crossing-60", what: "two walls that cross at 60 degrees", walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: one, start: structure, end: structure}
  - {id: L1-02, level: L1, line: [[634, -1500], [2366, 1500]], buildup: one, start: structure, end: structure}`},
	{name: "straight-on", what: "two walls in one line", walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [1800, 0]], buildup: two, start: structure}
  - {id: L1-02, level: L1, line: [[1800, 0], [3600, 0]], buildup: two, end: structure}`},
	{name: "straight-differs", what: "two walls of different thickness in one line", walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [1800, 0]], buildup: two, start: structure}
  - {id: L1-02, level: L1, line: [[1800, 0], [3600, 0]], buildup: bare, end: structure}`},
	{name: "three-ends", what: "the ends of three walls in one point", walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [1800, 0]], buildup: one, start: structure}
  - {id: L1-02, level: L1, line: [[1800, 0], [1800, -1800]], buildup: one, end: structure}
  - {id: L1-03, level: L1, line: [[1800, 0], [1800, 1800]], buildup: one, end: structure}`},

	// ends
	{name: "free-end", what: "ends in the room", walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [2600, 0]], buildup: two, start: structure, end: free}`},
	{name: "facade-post", what: "ends at a post of a facade narrower than the wall", walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [2600, 0]], buildup: two, start: structure}`, structure: `
  - {id: S-01, level: L1, kind: facade, material: steel, outline: [[2600, -30], [2720, -30], [2720, 30], [2600, 30]]}`},
	{name: "facade-post-thin", what: "ends at a narrow post with a closing piece of boards", walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [2600, 0]], buildup: two, start: structure, end_piece: {thickness: 50, length: 150}}`, structure: `
  - {id: S-01, level: L1, kind: post, material: steel, outline: [[2600, -30], [2720, -30], [2720, 30], [2600, 30]]}`},
	{name: "facade-post-frame", what: "ends at a post with a slim framed closing piece", walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [2600, 0]], buildup: three, start: structure}`, structure: `
  - {id: S-01, level: L1, kind: post, material: steel, outline: [[2600, -50], [2720, -50], [2720, 50], [2600, 50]]}`},
	{name: "slanting-end", what: "ends at structure that stands at an angle", walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [2600, 0]], buildup: two, start: structure}`, structure: `
  - {id: S-01, level: L1, kind: wall, material: concrete, outline: [[2100, -1000], [2300, -1000], [3300, 1000], [3100, 1000]]}`},
	{name: "column", what: "a column stands in its run", walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3600, 0]], buildup: two, start: structure, end: structure}`, structure: `
  - {id: S-01, level: L1, kind: column, material: concrete, outline: [[1600, -150], [1900, -150], [1900, 150], [1600, 150]]}`},
	{name: "round-end", what: "ends at a column with many sides", walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [2600, 0]], buildup: one, start: structure}`, structure: `
  - {id: S-01, level: L1, kind: column, material: concrete, outline: [[2600, -60], [2660, -145], [2745, -180], [2830, -145], [2890, -60], [2890, 60], [2830, 145], [2745, 180], [2660, 145], [2600, 60]]}`},

	// heads
	{name: "deflection-head", what: "slab that sinks", between: 3000, level: "clear_height: 2750, deflection: 15", walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: two}`},
	{name: "deflection-fire", what: "slab that sinks, fire asked", between: 3000, level: "clear_height: 2750, deflection: 20", walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: three, require: {fire: EI 90}}`},
	{name: "metal-deck", what: "soffit of metal deck", between: 3000, level: "clear_height: 2750, soffit: metal_deck", walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: two}`},
	{name: "upstand", what: "on an upstand of a wet room", between: 3000, level: "clear_height: 2750", walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: wet, base: 120}`},
	{name: "deck-across", what: "flutes of a metal deck across the wall", between: 3000, level: "clear_height: 2750, deflection: 10, soffit: metal_deck, deck: {pitch: 300, depth: 60, flute: 120, crown: 100, direction: 90}", walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: two}`},
	{name: "deck-along", what: "flutes of a metal deck along the wall", between: 3000, level: "clear_height: 2750, soffit: metal_deck, deck: {pitch: 300, depth: 60, flute: 120, crown: 100, direction: 0}", walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: two, require: {sound: Rw 50}}`},
	{name: "raised-floor", what: "on a raised floor", between: 3000, level: "clear_height: 2600, floor: raised_floor", walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: one}`},
	{name: "screed-timber", what: "between screed and timber", between: 3000, level: "clear_height: 2600, floor: screed, soffit: timber", walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: one}`},

	// openings
	{name: "door-light", what: "light door leaf, boxed studs", between: 3000, walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: two, openings: [{kind: door, at: 900, width: 885, height: 2010, leaf_mass: 20}]}`},
	{name: "door-heavy", what: "heavy door leaf, opening studs", between: 3000, walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: two, openings: [{kind: door, at: 900, width: 885, height: 2010, leaf_mass: 90}]}`},
	{name: "door-unknown", what: "door of unknown mass", between: 3000, walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: one, openings: [{kind: door, at: 900, width: 885, height: 2010}]}`},
	{name: "doors-share-jamb", what: "two doors beside each other", between: 3000, walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: two, openings: [{kind: door, at: 500, width: 885, height: 2010, leaf_mass: 25}, {kind: door, at: 1435, width: 885, height: 2010, leaf_mass: 25}]}`},
	{name: "door-near-end", what: "door close to the wall it abuts", between: 3000, walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: one, openings: [{kind: door, at: 60, width: 885, height: 2010, leaf_mass: 25}]}`},
	{name: "door-full-height", what: "door that leaves no room for a header", between: 3000, walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: one, openings: [{kind: door, at: 900, width: 885, height: 2740, leaf_mass: 25}]}`},
	{name: "door-high", what: "high door, joint on a cripple", between: 3000, walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: two, openings: [{kind: door, at: 900, width: 1260, height: 2400, leaf_mass: 40}]}`},
	{name: "door-at-junction", what: "door beside a wall that stands against this one", walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3400, 0]], buildup: two, start: structure, end: structure, openings: [{kind: door, at: 1560, width: 885, height: 2010, leaf_mass: 25}]}
  - {id: L1-02, level: L1, line: [[1400, 0], [1400, -1800]], buildup: one, end: structure}`},
	{name: "window", what: "window with sill", between: 3000, walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: two, openings: [{kind: window, at: 900, width: 1200, height: 1100, sill: 900}]}`},
	{name: "hatch", what: "hatch", between: 3000, walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: one, openings: [{kind: hatch, at: 1000, width: 600, height: 600, sill: 1200, leaf_mass: 12}]}`},
	{name: "bare-opening", what: "opening without a frame, reveals boarded", between: 3000, walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: two, openings: [{kind: bare, at: 900, width: 1000, height: 2200}]}`},
	{name: "wide-opening", what: "wide opening", between: 4200, walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [4200, 0]], buildup: two, openings: [{kind: bare, at: 800, width: 2600, height: 2200}]}`},
	{name: "pocket-door", what: "door that slides into the wall", between: 3600, walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3600, 0]], buildup: pocket, openings: [{kind: door, at: 1700, width: 885, height: 2010, leaf_mass: 30, pocket: start}]}`},
	{name: "opening-over-opening", what: "window over a door", between: 3000, level: "clear_height: 3000", walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: two, openings: [{kind: door, at: 900, width: 885, height: 2010, leaf_mass: 25}, {kind: window, at: 900, width: 885, height: 500, sill: 2150}]}`},

	// services
	{name: "penetration-small", what: "pipe between two studs", between: 3000, walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: two, openings: [{kind: penetration, at: 850, width: 100, height: 100, sill: 2300, service: pipe}]}`},
	{name: "penetration-large", what: "duct that needs a frame", between: 3000, walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: two, openings: [{kind: penetration, at: 700, width: 800, height: 300, sill: 2200, service: duct}]}`},
	{name: "seal-pipe", what: "metal pipe through a wall of which fire is asked", between: 3000, walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: three, require: {fire: EI 90}, openings: [{kind: penetration, at: 850, width: 130, height: 130, sill: 1300, service: pipe, diameter: 90}]}`},
	{name: "seal-collar", what: "plastic pipe through a wall of which fire is asked", between: 3000, walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: three, require: {fire: EI 90}, openings: [{kind: penetration, at: 850, width: 130, height: 130, sill: 1300, service: plastic_pipe, diameter: 110}]}`},
	{name: "boxes", what: "boxes in both faces", between: 3000, walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: two, boxes: [{kind: socket, face: a, at: 850, height: 300, gangs: 2}, {kind: switch, face: b, at: 1100, height: 1100}]}`},
	{name: "boxes-back-to-back", what: "boxes back to back where sound is asked", between: 3000, walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: two, require: {sound: Rw 53}, boxes: [{kind: socket, face: a, at: 900, height: 300}, {kind: socket, face: b, at: 900, height: 300}]}`},
	{name: "grab-rail", what: "grab rail", between: 3000, walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: wet, fixings: [{kind: grab_rail, face: a, at: 1000, width: 700, height: 850, mass: 10}]}`},
	{name: "cabinets", what: "row of wall cabinets", between: 3000, walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: two, fixings: [{kind: cabinet, face: b, at: 600, width: 1800, height: 2000, mass: 90, lever: 200}]}`},
	{name: "sanitary-frame", what: "frame of a wc in a service wall", between: 3000, walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: braced, fixings: [{kind: wc, face: a, at: 1300, width: 500}]}`},
	{name: "pipes-along", what: "pipe along the wall", between: 3000, walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: braced, pipes: [{service: water, diameter: 50, path: [[300, 500], [2700, 500]]}]}`},

	{name: "pipe-up", what: "pipe up the wall", between: 3000, walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: braced, pipes: [{service: waste, diameter: 110, path: [[1500, 0], [1500, 2600]]}]}`},

	// long
	{name: "movement-joint", what: "longer than the practice allows without a joint", between: 16400, walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [16400, 0]], buildup: one}`},
	{name: "movement-fire", what: "movement joint in a wall of which fire is asked", between: 16400, walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [16400, 0]], buildup: three, require: {fire: EI 90}}`},
	{name: "curved", what: "a curved wall", walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [3000, 0]], buildup: curved, start: structure, end: structure, via: [1500, 500]}`},

	// us
	{name: "us-wall", what: "US practice", us: true, level: "clear_height: 9 ft", walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [12 ft, 0]], buildup: us, start: structure, end: structure}`},
	{name: "us-door", what: "US practice, door", us: true, level: "clear_height: 9 ft", walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [12 ft, 0]], buildup: us, start: structure, end: structure, openings: [{kind: door, at: 4 ft, width: 38 in, height: 82 in, leaf_mass: 30}]}`},
	{name: "us-tee", what: "US practice, T junction", us: true, level: "clear_height: 9 ft", walls: `
  - {id: L1-01, level: L1, line: [[0, 0], [12 ft, 0]], buildup: us, start: structure, end: structure}
  - {id: L1-02, level: L1, line: [[6 ft, 0], [6 ft, -8 ft]], buildup: us, end: structure}`},
}
