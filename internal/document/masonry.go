package document

import (
	"fmt"

	"nogging/internal/drawing"
	"nogging/internal/masonry"
)

// masonrySheets sets the partitions beside block walls that do the same: totals,
// then wall by wall.
func (p *pack) masonrySheets() []*drawing.Scene {
	m := p.in.Masonry
	if m == nil || m.Compared == 0 {
		return nil
	}
	f := newFlow("block-walls", "Beside block walls", 2)
	totals := &drawing.Table{Title: fmt.Sprintf("%d partitions and the block walls that meet the same demands", m.Compared), Columns: []drawing.Column{
		{Width: f.width() - 4*28, Head: "Total"}, {Head: "Partitions", Width: 28, Align: drawing.Right}, {Head: "Block walls", Width: 28, Align: drawing.Right},
		{Head: "Saved", Width: 28, Align: drawing.Right}, {Head: "Unit", Width: 28},
	}}
	for _, x := range m.Figures {
		totals.Add(x.Name, masonry.Amount(x.Partition.Value), masonry.Amount(x.Block.Value), fmt.Sprintf("%.0f %%", 100*x.Saved()), x.Partition.Unit)
	}
	f.table(totals)
	for _, x := range m.Figures {
		f.bullet(fmt.Sprintf("%s: %s (%s); block walls: %s (%s)", x.Name, x.Partition.Method, x.Partition.Status, x.Block.Method, x.Block.Status))
	}
	for _, missing := range m.Missing {
		f.bullet("open: " + missing)
	}
	f.table(p.masonryTable(f.width()))
	for i, s := range f.scenes {
		p.titled(s, "M", i+1, len(f.scenes), caution, []string{m.Note})
	}
	return f.scenes
}

func (p *pack) masonryTable(width float64) *drawing.Table {
	t := &drawing.Table{Title: "Wall by wall", Columns: []drawing.Column{
		{Head: "Wall", Width: 24}, {Head: "Block wall", Width: width - 24 - 6*19}, {Head: "Thick", Width: 19, Align: drawing.Right}, {Head: "block", Width: 19, Align: drawing.Right},
		{Head: "kg", Width: 19, Align: drawing.Right}, {Head: "block", Width: 19, Align: drawing.Right}, {Head: "h", Width: 19, Align: drawing.Right}, {Head: "block", Width: 19, Align: drawing.Right},
	}}
	for _, w := range p.in.Masonry.Walls {
		if w.Block != "" {
			t.Add(w.ID, w.Block, p.set.Measures(w.Thickness[0].String()), p.set.Measures(w.Thickness[1].String()), fmt.Sprintf("%.0f", w.Mass[0]), fmt.Sprintf("%.0f", w.Mass[1]), fmt.Sprintf("%.1f", w.Hours[0]), fmt.Sprintf("%.1f", w.Hours[1]))
		}
	}
	return t
}
