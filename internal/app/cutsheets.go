package app

import (
	"context"

	"nogging/internal/cut"
	"nogging/internal/cut/boards"
	"nogging/internal/drawing/sheets"
	"nogging/internal/layout"
)

// cuttingDir is the folder of drawings by which boards are cut.
const cuttingDir = "cutting"

// cutEffort is how hard the plans that people cut by are looked for.
const cutEffort = 4

// CutBoards plans how the boards of walls are cut, zone by zone, and draws every
// way to cut a board into a folder, and lists of the bars that were planned before. It
// returns the plans and the number of files. It ends early, with an error, when ctx
// does.
func (j *Job) CutBoards(ctx context.Context, walls []*layout.Wall, bars []cut.Zone, to Folder) ([]boards.Zone, int, error) {
	o := j.boardOptions(cutEffort)
	zones, err := boards.Plan(ctx, walls, j.Catalogue, j.Practice, o)
	if err != nil {
		return nil, 0, err
	}
	w := &writer{job: j, to: to, progress: Quiet, err: to.ClearDrawings(cuttingDir)}
	set := sheets.New(j.drawn())
	for _, z := range bars {
		w.sheets(cuttingDir+"/"+sheets.FileName(z.ID)+"_bars", set.BarSheets(z.ID, z.Profiles))
	}
	for i := range zones {
		z := &zones[i]
		for k := range z.Boards {
			b := &z.Boards[k]
			w.sheets(cuttingDir+"/"+sheets.FileName(z.ID)+"_"+sheets.FileName(b.Product), set.CutSheets(z.ID, b, o))
		}
	}
	return zones, w.files, w.err
}
