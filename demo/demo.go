// Package demo holds the demo project: a two-storey harbour clinic. Everything in
// it is invented.
package demo

import _ "embed"

// Plan is the demo's plan file.
//
//go:embed clinic.yaml
var Plan []byte

// Prices is its price list.
//
//go:embed prices/prices.csv
var Prices []byte

// Rates is the rates of the firm that prices it.
//
//go:embed prices/rates.yaml
var Rates []byte

// Gangs is who works on it, and when.
//
//go:embed site/gangs.yaml
var Gangs []byte
