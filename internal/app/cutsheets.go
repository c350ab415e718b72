package app

import (
	"context"

	"nogging/internal/cut/boards"
	"nogging/internal/drawing/sheets"
	"nogging/internal/layout"
)

// cuttingDir is the folder of drawings by which boards are cut.
const cuttingDir = "cutting"

// cutEffort is how hard the plans that people cut by are looked for.
const cutEffort = 4

// CutBoards plans how the boards of walls are cut, zone by zone, and draws every
// way to cut a board into a folder. It returns the plans and the number of files. It
// ends early, with an error, when ctx does.
func (j *Job) CutBoards(ctx context.Context, walls []*layout.Wall, to Folder) ([]boards.Zone, int, error) {
	o := boards.Options{Zone: j.zoneOf(), Effort: cutEffort}
	zones, err := boards.Plan(ctx, walls, j.Catalogue, j.Practice, o)
	if err != nil {
		return nil, 0, err
	}
	w := &writer{job: j, to: to, progress: Quiet, err: to.ClearDrawings(cuttingDir)}
	set := sheets.New(j.drawn())
	for i := range zones {
		z := &zones[i]
		for k := range z.Boards {
			b := &z.Boards[k]
			w.sheets(cuttingDir+"/"+sheets.FileName(z.ID)+"_"+sheets.FileName(b.Product), set.CutSheets(z.ID, b, o))
		}
	}
	return zones, w.files, w.err
}
