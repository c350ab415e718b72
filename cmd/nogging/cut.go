package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"os/signal"
	"slices"
	"strconv"
	"strings"
	"text/tabwriter"

	"nogging/internal/cut"
	"nogging/internal/cut/boards"
	"nogging/internal/cut/together"
	"nogging/internal/finding"
	"nogging/internal/layout"
	"nogging/internal/quantity"
)

type cutCommand struct {
	Plan   string   `arg:"" help:"Plan file; - for standard input."`
	Level  []string `placeholder:"ID" help:"Only this level. May be repeated."`
	Kerf   string   `default:"0" placeholder:"LENGTH" help:"Lost at each cut; 0 for shears."`
	Trim   string   `default:"0" placeholder:"LENGTH" help:"Cut off each end of a bar first."`
	Keep   string   `placeholder:"LENGTH" help:"Shortest rest of a bar to keep for later zones; 0 keeps none; the practice's offcut_profile if left out."`
	Offcut []string `sep:"none" placeholder:"PRODUCT,LENGTH,COUNT" help:"Offcuts in store. May be repeated."`
	Made   []string `sep:"none" placeholder:"PRODUCT,FROM,TO,STEP,MINIMUM,PERCENT" help:"A length that may be ordered to measure: within which limits and in which steps, how many at least, at what percentage of the price per metre of stock. May be repeated."`
	Output string   `short:"o" placeholder:"DIR" help:"Plan the boards, too, and draw into this folder how each is cut, with the lists of bars."`
	CSV    bool     `name:"csv" xor:"form" help:"Print every piece as comma-separated values."`
	JSON   bool     `name:"json" xor:"form" help:"Print the plans as JSON."`
	saving `embed:""`
}

func (k *cutCommand) Run(c *console) error {
	yard, err := k.yard()
	if err != nil {
		return err
	}
	j, err := open(c, k.Plan)
	if err != nil {
		return err
	}
	progress := newProgress(c, k.JSON || k.CSV)
	if err := k.build(j, progress.report); err != nil {
		return err
	}
	progress.end()
	for _, id := range k.Level {
		if j.Plan.LevelByID(id) == nil {
			return fmt.Errorf("the plan has no level %s", id)
		}
	}
	for id := range yard.Made {
		if _, ok := j.Catalogue.Profile(id); !ok {
			return fmt.Errorf("--made: the catalogue has no profile %s", id)
		}
	}
	walls := slices.DeleteFunc(slices.Clone(j.Layout.Walls), func(w *layout.Wall) bool {
		return len(k.Level) > 0 && !slices.Contains(k.Level, w.Level)
	})
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	usual := j.Yard()
	yard.Zone, yard.Order = usual.Zone, usual.Order
	if k.Keep == "" {
		yard.Keep = usual.Keep
	}
	zones := cut.Zones(ctx, walls, j.Catalogue, yard)
	if err := k.print(c, zones, j.Saved()); err != nil {
		return err
	}
	if k.Output != "" {
		boards, files, err := j.CutBoards(ctx, walls, zones, folder(k.Output))
		if err != nil {
			return err
		}
		if !k.JSON && !k.CSV {
			printBoards(c.out, boards)
		}
		fmt.Fprintf(c.err, "%s of cutting plans in %s\n", count(files, "drawing"), k.Output)
	}
	var found finding.List
	for _, l := range zones {
		found = append(found, l.Findings...)
	}
	toErr := *c
	toErr.out, toErr.colour = c.err, false
	printFindings(&toErr, found)
	return verdict(found)
}

func (k *cutCommand) print(c *console, zones []cut.Zone, saved []together.Saving) error {
	switch {
	case k.JSON:
		all := map[string]any{"zones": zones}
		if saved != nil {
			all["boards_saved"] = saved
		}
		return printJSON(c.out, all)
	case k.CSV:
		return cut.WriteCSV(c.out, zones)
	}
	printSaved(c.out, saved)
	return printCuts(c.out, zones)
}

// yard reads what the flags say.
func (k *cutCommand) yard() (cut.Yard, error) {
	y := cut.Yard{Made: map[string]cut.Made{}}
	for _, f := range []struct {
		name, text string
		to         *cut.Length
	}{{"kerf", k.Kerf, &y.Kerf}, {"trim", k.Trim, &y.Trim}, {"keep", k.Keep, &y.Keep}} {
		if f.text == "" {
			continue
		}
		l, err := quantity.ParseLength(f.text)
		if err == nil && l < 0 {
			err = fmt.Errorf("%s is below 0", f.text)
		}
		if err != nil {
			return y, fmt.Errorf("--%s: %w", f.name, err)
		}
		*f.to = l
	}
	for _, text := range k.Offcut {
		id, l, n, err := fields(text, 1, 1)
		if err != nil {
			return y, fmt.Errorf("--offcut %s: %w; such as CW75,1800,3", text, err)
		}
		y.Offcuts = append(y.Offcuts, cut.Offcut{Product: id, Length: l[0], Count: n[0]})
	}
	for _, text := range k.Made {
		id, l, n, err := fields(text, 3, 2)
		if err != nil {
			return y, fmt.Errorf("--made %s: %w; such as CW75,2400,6000,5,50,105", text, err)
		}
		y.Made[id] = cut.Made{Shortest: l[0], Longest: l[1], Step: l[2], Minimum: n[0], Percent: n[1]}
	}
	return y, nil
}

// fields reads a product, so many lengths and so many whole numbers, all above 0.
func fields(text string, lengths, numbers int) (id string, l []cut.Length, n []int, err error) {
	parts := strings.Split(text, ",")
	if len(parts) != 1+lengths+numbers {
		return "", nil, nil, fmt.Errorf("%d values are needed", 1+lengths+numbers)
	}
	for i, part := range parts[1:] {
		if i < lengths {
			v, err := quantity.ParseLength(part)
			if err != nil || v <= 0 {
				return "", nil, nil, fmt.Errorf("%q is no length above 0", part)
			}
			l = append(l, v)
			continue
		}
		v, err := strconv.Atoi(part)
		if err != nil || v <= 0 {
			return "", nil, nil, fmt.Errorf("%q is no whole number above 0", part)
		}
		n = append(n, v)
	}
	return parts[0], l, n, nil
}

// printCuts writes a list for the saw: a line a bar.
func printCuts(out io.Writer, zones []cut.Zone) error {
	for _, l := range zones {
		for i := range l.Profiles {
			p := &l.Profiles[i]
			fmt.Fprintf(out, "%s  %s  %s\n", l.ID, p.Product, p.Name)
			w := tabwriter.NewWriter(out, 0, 8, 2, ' ', 0)
			for n := range p.Bars {
				printBar(w, n+1, &p.Bars[n])
			}
			for n := range p.Spare {
				printBar(w, len(p.Bars)+n+1, &p.Spare[n])
			}
			if err := w.Flush(); err != nil {
				return err
			}
			fmt.Fprintf(out, "  %s, %.2f m bought, %.2f m needed, %.1f %% waste%s; %s\n\n", count(len(p.Bars)+len(p.Spare), "bar"),
				p.Bought.Metres(), p.Needed.Metres(), 100*p.Waste.Metres()/(p.Bought+p.Reused).Metres(), kept(p), bounded(p))
		}
	}
	return nil
}

func printBar(out io.Writer, number int, b *cut.Bar) {
	var pieces []string
	for _, p := range b.Pieces {
		pieces = append(pieces, fmt.Sprintf("%s %s/%s", p.Length, p.Wall, p.Mark))
	}
	rest := "rest " + b.Rest.String()
	if b.Kept != nil {
		rest = fmt.Sprintf("keep %s as %s", b.Rest, b.Kept)
	}
	from := ""
	if b.Source != cut.FromStock {
		from = string(b.Source)
	}
	if b.From != nil {
		from = fmt.Sprintf("%s %s of %s, bar %d", from, b.From.Mark, b.From.Zone, b.From.Bar)
	}
	fmt.Fprintf(out, "  %d\t%s %s\t%s\t%s\n", number, b.Length, from, strings.Join(pieces, ", "), rest)
}

func kept(p *cut.Profile) string {
	if p.Kept == 0 {
		return ""
	}
	return fmt.Sprintf(", %.2f m kept", p.Kept.Metres())
}

// bounded says how good the plan is.
func bounded(p *cut.Profile) string {
	if p.Cost == p.Bound {
		return "no plan needs less"
	}
	return fmt.Sprintf("at most %.2f %% above the least possible", 100*p.Gap())
}

// printBoards sums up the cutting plans of boards: what is bought beside what would be
// if every piece had a board of its own, and the least that any plan takes.
func printBoards(out io.Writer, zones []boards.Zone) {
	for i := range zones {
		for k := range zones[i].Boards {
			b := &zones[i].Boards[k]
			fmt.Fprintf(out, "%s  %s  %s for %d pieces, %d if each piece had its own; %.1f m² bought, %.1f m² at least, %.1f m² of pieces\n",
				zones[i].ID, b.Product, count(b.Bought(), "board"), len(b.Pieces), b.Plain, b.Area(), b.Bound, b.Net())
		}
	}
}
