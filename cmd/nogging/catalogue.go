package main

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"nogging/internal/catalogue"
	"nogging/internal/yamlfile"
)

type catalogueCommand struct {
	Kind     string `arg:"" optional:"" help:"What to list: boards, profiles, insulation, screws, sundries, materials, fire_evidence, sound_evidence, carbon, masonry or practices; everything if left out."`
	Practice string `placeholder:"ID" help:"Only this practice, and the products of its standards."`
	JSON     bool   `name:"json" help:"Print the entries in full as JSON."`
}

// shelf is one kind of entry: how it is listed, and how it is taken alone.
type shelf struct {
	kind  string
	list  func(*catalogue.Catalogue) []catalogue.Entry
	alone func(*catalogue.Catalogue) catalogue.Catalogue
}

const practices = "practices"

var shelves = []shelf{
	{"boards", (*catalogue.Catalogue).BoardEntries, func(c *catalogue.Catalogue) catalogue.Catalogue {
		return catalogue.Catalogue{Boards: c.Boards}
	}},
	{"profiles", (*catalogue.Catalogue).ProfileEntries, func(c *catalogue.Catalogue) catalogue.Catalogue {
		return catalogue.Catalogue{Profiles: c.Profiles}
	}},
	{"insulation", (*catalogue.Catalogue).InsulationEntries, func(c *catalogue.Catalogue) catalogue.Catalogue {
		return catalogue.Catalogue{Insulation: c.Insulation}
	}},
	{"screws", (*catalogue.Catalogue).ScrewEntries, func(c *catalogue.Catalogue) catalogue.Catalogue {
		return catalogue.Catalogue{Screws: c.Screws}
	}},
	{"sundries", (*catalogue.Catalogue).SundryEntries, func(c *catalogue.Catalogue) catalogue.Catalogue {
		return catalogue.Catalogue{Sundries: c.Sundries}
	}},
	{"materials", (*catalogue.Catalogue).MaterialEntries, func(c *catalogue.Catalogue) catalogue.Catalogue {
		return catalogue.Catalogue{Materials: c.Materials}
	}},
	{"fire_evidence", (*catalogue.Catalogue).FireEntries, func(c *catalogue.Catalogue) catalogue.Catalogue {
		return catalogue.Catalogue{FireEvidence: c.FireEvidence}
	}},
	{"sound_evidence", (*catalogue.Catalogue).SoundEntries, func(c *catalogue.Catalogue) catalogue.Catalogue {
		return catalogue.Catalogue{SoundEvidence: c.SoundEvidence}
	}},
	{"carbon", (*catalogue.Catalogue).CarbonEntries, func(c *catalogue.Catalogue) catalogue.Catalogue {
		return catalogue.Catalogue{Carbon: c.Carbon}
	}},
	{"masonry", (*catalogue.Catalogue).MasonryEntries, func(c *catalogue.Catalogue) catalogue.Catalogue {
		return catalogue.Catalogue{Masonry: c.Masonry}
	}},
	{practices, nil, func(c *catalogue.Catalogue) catalogue.Catalogue {
		return catalogue.Catalogue{Practices: c.Practices}
	}},
}

func (k *catalogueCommand) Run(c *console) error {
	cat := catalogue.Shipped()
	if k.Practice != "" {
		p, ok := cat.PracticeByID(k.Practice)
		if !ok {
			return fmt.Errorf("there is no practice %s\n  hint: %s", k.Practice, yamlfile.Suggest(k.Practice, "practices", cat.IDs(catalogue.KindPractice)))
		}
		cat = cat.For(p)
	}
	wanted, err := k.shelves()
	if err != nil {
		return err
	}
	if k.JSON {
		if len(wanted) > 1 {
			return printJSON(c.out, cat)
		}
		return printJSON(c.out, wanted[0].alone(cat))
	}
	for i, s := range wanted {
		if i > 0 {
			fmt.Fprintln(c.out)
		}
		if s.kind == practices {
			printPractices(c.out, cat.Practices)
		} else {
			printEntries(c.out, s.kind, s.list(cat))
		}
	}
	return nil
}

// shelves returns the kinds that were asked for.
func (k *catalogueCommand) shelves() ([]shelf, error) {
	if k.Kind == "" {
		return shelves, nil
	}
	var kinds []string
	for _, s := range shelves {
		if s.kind == k.Kind {
			return []shelf{s}, nil
		}
		kinds = append(kinds, s.kind)
	}
	return nil, fmt.Errorf("the catalogue has no %s\n  hint: %s", k.Kind, yamlfile.Suggest(k.Kind, "it has", kinds))
}

func printEntries(out io.Writer, kind string, entries []catalogue.Entry) {
	head := "SIZES IN MM"
	if kind == "sundries" {
		head = "WHAT FOR"
	}
	rows := [][]string{{"ID", "NAME", "STANDARD", head, "STATUS", "SOURCE"}}
	for _, e := range entries {
		rows = append(rows, []string{e.ID, e.Name, e.Standard, e.Sizes, string(e.Status), e.Source})
	}
	fmt.Fprintln(out, strings.ToUpper(kind))
	printTable(out, rows)
}

func printPractices(out io.Writer, all []catalogue.Practice) {
	for i, p := range all {
		if i > 0 {
			fmt.Fprintln(out)
		}
		rows := [][]string{{"RULE", "VALUE", "STATUS", "SOURCE"}}
		for _, r := range p.Rules() {
			from := strings.TrimPrefix(strings.TrimSuffix(r.Source+"; "+r.Note, "; "), "; ")
			rows = append(rows, []string{r.Name, strings.TrimSpace(r.Value + " " + r.Unit), string(r.Status), from})
		}
		fmt.Fprintf(out, "PRACTICE %s: %s\n", p.ID, p.Name)
		printTable(out, rows)
	}
}

// printTable writes rows in columns. A cell that is much longer than its
// column moves the rest of its row.
func printTable(out io.Writer, rows [][]string) {
	const widest = 60
	widths := make([]int, len(rows[0]))
	for _, row := range rows {
		for i, cell := range row {
			if n := utf8.RuneCountInString(cell); n <= widest {
				widths[i] = max(widths[i], n)
			}
		}
	}
	for _, row := range rows {
		line := ""
		for i, cell := range row {
			line += "  " + padRight(cell, widths[i])
		}
		fmt.Fprintln(out, strings.TrimRight(line, " "))
	}
}
