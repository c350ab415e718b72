package main

import (
	"fmt"

	"nogging/internal/masonry"
)

type masonryCommand struct {
	Plan    string `arg:"" help:"Plan file; - for standard input."`
	JSON    bool   `name:"json" help:"Print the comparison wall by wall as JSON."`
	pricing `embed:""`
}

func (k *masonryCommand) Run(c *console) error {
	j, err := open(c, k.Plan)
	if err != nil {
		return err
	}
	if err := k.use(j); err != nil {
		return err
	}
	progress := newProgress(c, k.JSON)
	j.Build(progress.report)
	progress.end()
	m := j.Masonry()
	if k.JSON {
		return printJSON(c.out, m)
	}
	printMasonry(c, m)
	return nil
}

// printMasonry writes the totals of partitions and block walls side by side.
func printMasonry(c *console, m masonry.Comparison) {
	fmt.Fprintf(c.out, "%s beside block walls that meet the same demands\n\n", count(m.Compared, "partition"))
	fmt.Fprintf(c.out, "  %s  %s  %s  %s\n", padRight("", 20), padLeft("partitions", 12), padLeft("block walls", 12), "saved")
	for _, f := range m.Figures {
		saved := fmt.Sprintf("%.0f %%", 100*f.Saved())
		fmt.Fprintf(c.out, "  %s  %s  %s  %s  %s\n", padRight(f.Name, 20), padLeft(masonry.Amount(f.Partition.Value), 12),
			padLeft(masonry.Amount(f.Block.Value), 12), padLeft(saved, 5), f.Partition.Unit)
	}
	for _, missing := range m.Missing {
		fmt.Fprintln(c.out, "  open:", missing)
	}
	fmt.Fprintln(c.out, "\n"+m.Note)
}
