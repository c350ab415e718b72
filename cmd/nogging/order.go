package main

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"nogging/internal/order"
	"nogging/internal/takeoff"
)

type orderCommand struct {
	Plan    string `arg:"" help:"Plan file; - for standard input."`
	Output  string `short:"o" required:"" placeholder:"DIR" help:"Folder to write to; it is made if need be."`
	JSON    bool   `name:"json" help:"Print the order as JSON."`
	pricing `embed:""`
	saving  `embed:""`
}

func (k *orderCommand) Run(c *console) error {
	j, err := open(c, k.Plan)
	if err != nil {
		return err
	}
	prices, err := k.quietly(j)
	if err != nil {
		return err
	}
	var supplierOf func(product string) string
	if prices != nil {
		supplierOf = prices.List.SupplierOf
	}
	progress := newProgress(c, k.JSON)
	if err := k.build(j, progress.report); err != nil {
		return err
	}
	progress.end()
	o := j.Order()
	files, err := j.WriteOrder(o, supplierOf, folder(k.Output))
	if err != nil {
		return err
	}
	if k.JSON {
		if err := printJSON(c.out, o); err != nil {
			return err
		}
	} else {
		printFindings(c, j.Findings)
		printOrder(c.out, o)
		printSaved(c.out, o.Saved)
		fmt.Fprintf(c.err, "%s in %s: order.xlsx, order.json, call-offs.csv and the purchase lists\n", count(files, "file"), k.Output)
	}
	return verdict(j.Findings)
}

// printOrder writes the order as a table, then its call-offs, carbon and waste.
func printOrder(out io.Writer, o *order.Order) {
	rows := [][]string{{"", "size, mm", "packs", "", "bought", "needed", "left", ""}}
	for i := range o.Lines {
		l := &o.Lines[i]
		rows = append(rows, []string{l.Name, l.Size.String(), fmt.Sprint(l.Packs), l.Pack,
			takeoff.Format(l.Bought, l.Unit), takeoff.Format(l.Gross, l.Unit), takeoff.Format(l.Surplus, l.Unit), l.Unit})
	}
	printColumns(out, rows, 2, 4, 5, 6)
	fmt.Fprintf(out, "\n%.0f kg, %.1f m³ of what has sizes, %s\n", o.Mass, o.Volume, count(o.Pallets, "pallet"))
	fmt.Fprintln(out, "\nCALL-OFFS")
	zones := [][]string{}
	for _, z := range o.Zones {
		zones = append(zones, []string{z.ID, count(len(z.Walls), "wall"), fmt.Sprintf("%.0f kg", z.Mass), count(z.Pallets, "pallet")})
	}
	printColumns(out, zones, 2)
	fmt.Fprintf(out, "\nEmbodied carbon, modules A1 to A3: %.0f kg CO2 eq. built in, %.0f kg of waste (A5)\n", o.Carbon.Built, o.Carbon.Waste)
	var waste []string
	for _, w := range o.Waste {
		if w.Mass > 0 {
			waste = append(waste, fmt.Sprintf("%s %.0f kg", w.Name, w.Mass))
		}
	}
	fmt.Fprintln(out, "Waste, kept apart:", strings.Join(waste, ", "))
}

// printColumns writes rows in columns; those named are set flush right.
func printColumns(out io.Writer, rows [][]string, right ...int) {
	widest := map[int]int{}
	for _, r := range rows {
		for i, cell := range r {
			widest[i] = max(widest[i], utf8.RuneCountInString(cell))
		}
	}
	flush := map[int]bool{}
	for _, i := range right {
		flush[i] = true
	}
	for _, r := range rows {
		line := ""
		for i, cell := range r {
			if flush[i] {
				line += "  " + padLeft(cell, widest[i])
			} else {
				line += "  " + padRight(cell, widest[i])
			}
		}
		fmt.Fprintln(out, strings.TrimRight(line, " "))
	}
}
