# Targets for people; `make help` lists them.

GO      ?= go
FUZZTIME ?= 1m
TOOL     = $(GO) tool -modfile=tools/go.mod
CHROMIUM ?= chromium
VERSION  = $(shell git describe --tags --always --dirty 2>/dev/null || echo dev)
# Reproducible: the same sources give the same binary, whoever builds it.
FLAGS    = -trimpath -ldflags='-s -w -buildid= -X main.version=$(VERSION)'

.PHONY: help demo pack readers test test-page test-page-now web serve build lint generate validation bench bench-cut bench-cut-mip bench-ifc bench-programme bench-programme-cp explore fuzz release clean

help: ## list the targets
	@awk -F ':.*## ' '/^[a-z-]+:.*## / { printf "  make %-13s %s\n", $$1, $$2 }' $(MAKEFILE_LIST)

demo: ## build everything and open the page on the demo clinic
	@command -v npm >/dev/null || { echo "the page is built with npm (Debian: apt install npm); make pack does the main job without it"; exit 1; }
	@$(MAKE) --no-print-directory web build
	@mkdir -p out
	bin/nogging serve --demo --open --listen 127.0.0.1:0 --data out/demo.db

pack: build ## lay out, order, price and programme the demo clinic into out/clinic, without a browser
	bin/nogging build demo/clinic.yaml -o out/clinic
	bin/nogging price demo/clinic.yaml --prices demo/prices/prices.csv -o out/clinic > /dev/null
	bin/nogging order demo/clinic.yaml --prices demo/prices/prices.csv -o out/clinic
	bin/nogging programme demo/clinic.yaml --start 2027-01-11 --gangs demo/site/gangs.yaml -o out/clinic
	bin/nogging programme demo/clinic.yaml --start 2027-01-11 --gangs demo/site/gangs.yaml --done demo/site/done.yaml --today 2027-01-27 -o out/clinic/progress > /dev/null
	@echo "open out/clinic/pack.pdf"

web: web/node_modules ## build the page that the program embeds (needs npm)
	cd web && npx --no-install tsc --noEmit
	cd web && $(GO) run ./build

web/node_modules: web/package-lock.json
	cd web && npm ci --ignore-scripts --no-audit --no-fund --loglevel error
	@touch $@

readers: tools/readers/node_modules ## fetch other readers of the formats that are written, for tests (needs npm)

tools/readers/node_modules: tools/readers/package-lock.json
	cd tools/readers && npm ci --ignore-scripts --no-audit --no-fund --loglevel error
	@touch $@

serve: web build ## open the page in the browser
	bin/nogging serve --open

test: ## run all tests, those of the page in Chromium too
	$(GO) test ./...
	@$(MAKE) --no-print-directory test-page

# Without what they need the page's tests are left out, which CI does not accept.
test-page:
	@missing=; for p in npm $(CHROMIUM); do command -v $$p >/dev/null || missing="$$missing $$p"; done; \
	if [ -z "$$missing" ]; then $(MAKE) --no-print-directory test-page-now; \
	else echo "the page is not tested: install$$missing (Debian: apt install npm chromium)"; test -z "$$CI"; fi

test-page-now: web build
	cd web && npm run -s unit
	cd web && CHROMIUM=$$(command -v $(CHROMIUM)) node --test --test-concurrency=1 --test-timeout 120000 $(or $(PAGE_TESTS),test/*.test.mjs)

situations: ## draw every situation of the table into out/situations, to look at
	$(GO) test -count 1 -run '^TestSituations$$' ./internal/drawing/sheets -situations $(CURDIR)/out/situations

build: ## build bin/nogging
	CGO_ENABLED=0 $(GO) build $(FLAGS) -o bin/nogging ./cmd/nogging

lint: ## check formatting, vet, static analysis and generated files
	@unformatted=$$(gofmt -l cmd internal demo schema web/*.go web/build); test -z "$$unformatted" || { echo "gofmt -w $$unformatted"; exit 1; }
	$(GO) vet ./...
	$(TOOL) staticcheck ./...
	@$(MAKE) --no-print-directory generate
	@git diff --exit-code -- schema || { echo "schema/ is out of date: commit what 'make generate' wrote"; exit 1; }

generate: ## write the schemas of files that are read and of JSON that is written anew
	@for of in plan gangs; do $(GO) run ./cmd/nogging schema $$of > schema/$$of.schema.json.new && mv schema/$$of.schema.json.new schema/$$of.schema.json; done
	@for of in result order programme proofs; do $(GO) run ./internal/validation/schemas/write $$of > schema/$$of.schema.json.new && mv schema/$$of.schema.json.new schema/$$of.schema.json; done

validation: ## check figures against sources outside the project and write docs/validation.md
	@rm -rf bin/validation && mkdir -p bin/validation docs
	@NOGGING_VALIDATION=$(CURDIR)/bin/validation $(GO) test -count 1 ./internal/proof/...
	@$(GO) run ./internal/validation/report bin/validation > docs/validation.md.new && mv docs/validation.md.new docs/validation.md

bench: ## run the benchmarks
	$(GO) test -run '^$$' -bench . -benchmem ./internal/... 

bench-cut: ## solve the public cutting instances beside the repository (BENCH_SET: one set)
	@$(GO) run ./internal/validation/benchcut ../shared/data $(BENCH_SET)

bench-ifc: readers ## read building models side by side with another reader (npm's web-ifc)
	@mkdir -p bin && $(GO) build $(FLAGS) -o bin/benchifc ./internal/validation/benchifc && bin/benchifc ../shared/data/plans/open tools/readers

bench-programme: ## plan the public scheduling instances beside the repository (BENCH_SET: some sets)
	@$(GO) run ./internal/validation/benchprogramme ../shared/data/rcpsp $(BENCH_SET)

bench-programme-cp: ## plan made-up programmes side by side with a constraint solver (needs node)
	@cd tools/cp && npm install --silent --no-audit --no-fund
	@$(GO) run ./internal/validation/benchcp tools/cp 5

MIP = $(CURDIR)/bin/mip
bench-cut-mip: ## cut ten zones side by side with a general-purpose solver (npm's highs); takes 20 minutes
	@if ! command -v npm > /dev/null; then echo "bench-cut-mip: skipped, there is no npm on this machine"; test "$$CI" != true; else \
		mkdir -p $(MIP) && cd $(MIP) && npm install --silent --no-audit --no-fund --prefix . highs@1.15.3 && cd $(CURDIR) && \
		$(GO) run ./internal/validation/benchmip $(MIP) internal/validation/benchmip/solve.mjs demo/clinic.yaml; fi

DRAWING = $(shell $(GO) list -f '{{.ImportPath}} {{.TestImports}} {{.XTestImports}}' ./... | awk '/pgregory.net.rapid/ { print $$1 }')
explore: ## hold all properties against inputs that are new every time (CHECKS of each)
	$(GO) test -count 1 $(DRAWING) -args -rapid.seed=0 -rapid.checks=$(or $(CHECKS),100)

fuzz: ## fuzz everything that reads files, one after another (FUZZTIME=10m: so long each)
	@grep -rno '^func Fuzz[A-Za-z]*' internal --include=*_test.go | sed 's,/[^/]*:[0-9]*:func , ,' | sort | while read -r package of; do \
		echo "$$package $$of"; \
		$(GO) test -run '^$$' -fuzz "^$$of\$$" -fuzztime $(FUZZTIME) -fuzzminimizetime 10s ./$$package < /dev/null || exit 1; \
	done

release: web ## build the binary for every system into bin/
	@for t in linux/amd64 linux/arm64 darwin/arm64 windows/amd64; do \
		os=$${t%/*}; arch=$${t#*/}; ext=; [ $$os = windows ] && ext=.exe; \
		echo bin/nogging-$$os-$$arch$$ext; \
		CGO_ENABLED=0 GOOS=$$os GOARCH=$$arch $(GO) build $(FLAGS) -o bin/nogging-$$os-$$arch$$ext ./cmd/nogging || exit 1; \
	done

clean: ## remove what was built
	rm -rf bin out
