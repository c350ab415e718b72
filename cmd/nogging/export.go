package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"nogging/internal/app"
	"nogging/internal/exchange/ifc/write"
)

type exportCommand struct {
	Plan   string   `arg:"" help:"Plan file."`
	Output []string `short:"o" required:"" placeholder:"FILE" sep:"none" help:"File to write; its ending says in which form: ${export_formats}. May be repeated."`
	Schema string   `enum:"IFC4,IFC4X3_ADD2" default:"IFC4" help:"Version of building models: IFC4 or IFC4X3_ADD2."`
	Simple bool     `name:"simple-walls" help:"Give each wall of a building model one body instead of its parts."`
}

func (k *exportCommand) Run(c *console) error {
	progress := newProgress(c, false)
	j, err := built(c, k.Plan, progress)
	progress.end()
	if err != nil {
		return err
	}
	for _, name := range k.Output {
		f, err := os.Create(name)
		if err != nil {
			return err
		}
		if err := errors.Join(j.Export(filepath.ToSlash(name), f, app.ExportOptions{Schema: write.Schema(k.Schema), Simple: k.Simple, Date: time.Now()}), f.Close()); err != nil {
			return errors.Join(err, os.Remove(name))
		}
		fmt.Fprintln(c.err, "wrote", name)
	}
	printFindings(c, j.Findings)
	return verdict(j.Findings)
}
