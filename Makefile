# Prill: build, tests, installation. `make help` lists the targets.

# The version has one place, the public header.
version  = $(shell sed -n 's/^#define PRILL_VERSION_$(1) //p' compiler/prill.h)
MAJOR   := $(call version,MAJOR)
MINOR   := $(call version,MINOR)
VERSION := $(MAJOR).$(MINOR).$(call version,PATCH)

BUILD   ?= build
PREFIX  ?= /usr/local
BINDIR  ?= $(PREFIX)/bin
LIBDIR  ?= $(PREFIX)/lib
INCLUDEDIR ?= $(PREFIX)/include
DATADIR ?= $(PREFIX)/share
MANDIR  ?= $(DATADIR)/man
DOCDIR  ?= $(DATADIR)/doc/prill
DESTDIR ?=
CPPFLAGS ?=
CFLAGS  ?= -O2 -g
LDFLAGS ?= -Wl,--as-needed
# At an address of its own the program needs none of its 5,000 pointers put right at each start, which takes half as long
# as starting a process. PIE= leaves it to the compiler, as a distribution may want; sanitizers need it so.
PIE     ?= $(if $(INSTRUMENT),,-no-pie)
HOSTCC  ?= cc
OBJCOPY ?= objcopy
ifeq ($(origin CC),default)
CC := gcc
endif
FUZZ_SECONDS ?= 600

WARNINGS  := -Wall -Wextra -Wpedantic -Wconversion -Wshadow -Wstrict-prototypes -Wmissing-prototypes
# A distribution's compiler may warn of what ours does not: the house builds with WERROR=-Werror, as .ci/run does.
WERROR    ?=
INSTRUMENT ?=
ANALYZER   ?=

# pkg-config may be missing until `make setup` has run in this same call; then the usual names do.
# Other people's libraries are loaded when they are wanted (compiler/model/late.h), so nothing is linked with them.
PACKAGE_CFLAGS := $(shell pkg-config --cflags jansson icu-i18n icu-uc libical 2>/dev/null)
LIBS := -lm
# Tests read back what is printed.
TEST_LIBS := $(LIBS) -ljansson -lical

# The same bytes from every folder: no path of the machine gets into an object.
PREFIX_MAP := '-ffile-prefix-map=$(abspath $(BUILD))=build' '-ffile-prefix-map=$(CURDIR)=.'
# What would be a guess about types is an error in any build.
LANGUAGE   := -std=c17 -Werror=implicit-function-declaration -D_POSIX_C_SOURCE=200809L -I. -I$(BUILD)/gen
# One set of objects serves the program, the archive and the shared library: nothing is seen outside but what prill.h marks.
COMPILE     = $(CC) $(LANGUAGE) -fPIC -fvisibility=hidden -MMD -MP $(PREFIX_MAP) $(PACKAGE_CFLAGS) $(CPPFLAGS) $(CFLAGS) $(INSTRUMENT)

# --- sources: the folders are the pipeline -------------------------------------------------------------
# ROOMS="lexer parser" builds part of the tree; UNITS=test_text builds part of the unit tests.
ROOMS ?= lexer parser compiler $(patsubst %/,%,$(wildcard compiler/*/))

SOURCES         := $(sort $(foreach room,$(filter-out compiler/embed,$(ROOMS)),$(wildcard $(room)/*.c)))
PROGRAM_SOURCES := $(filter compiler/command/%,$(SOURCES))
LIBRARY_SOURCES := $(filter-out compiler/command/%,$(SOURCES))
SCANNERS        := $(wildcard $(addsuffix /*.re,$(ROOMS)))
GRAMMARS        := $(wildcard $(addsuffix /*.y,$(ROOMS)))
KNOWLEDGE       := $(sort $(wildcard plans/library/*.prill))
UNITS           ?= $(basename $(notdir $(wildcard tests/unit/test_*.c)))

GENERATED := $(SCANNERS:%.re=$(BUILD)/gen/%.c) $(GRAMMARS:%.y=$(BUILD)/gen/%.c)
ifneq ($(filter compiler/model,$(ROOMS)),)
GENERATED += $(BUILD)/gen/library.c
endif
GENERATED_HEADERS := $(GRAMMARS:%.y=$(BUILD)/gen/%.h)

# What a document in HTML is made of besides the page.
DOCUMENT        := $(if $(filter compiler/form,$(ROOMS)),$(wildcard compiler/form/*.html compiler/form/*.css))
LIBRARY_OBJECTS := $(LIBRARY_SOURCES:%.c=$(BUILD)/obj/%.o) $(GENERATED:$(BUILD)/gen/%.c=$(BUILD)/obj/gen/%.o) \
    $(patsubst %,$(BUILD)/obj/gen/%.o,$(subst .,_,$(DOCUMENT)))
TEXTS           := $(wildcard compiler/command/*.text)
PROGRAM_OBJECTS := $(PROGRAM_SOURCES:%.c=$(BUILD)/obj/%.o) $(TEXTS:%.text=$(BUILD)/obj/gen/%_text.o)
UNIT_SHARED     := $(patsubst %.c,$(BUILD)/obj/%.o,$(filter-out tests/unit/test_%,$(wildcard tests/unit/*.c)))
UNIT_PROGRAMS   := $(UNITS:%=$(BUILD)/tests/unit/%)
REFERENCE_PROGRAMS := $(patsubst %.c,$(BUILD)/%,$(wildcard tests/reference/*.c))
SERVED          := $(BUILD)/tests/served.so
CASES_SOURCES   := $(wildcard tests/cases/*.c)
CASES_RUNNER    := $(BUILD)/tests/cases-runner
FUZZ_PROGRAMS   := $(patsubst tests/fuzz/%.c,$(BUILD)/%,$(wildcard tests/fuzz/*.c))
BENCH_PROGRAMS  := $(patsubst %.c,$(BUILD)/%,$(wildcard tests/bench/*.c))

PROGRAM := $(BUILD)/prill
LIBRARY := $(BUILD)/libprill.a
# The number behind the soname, and of the symbols, goes up when a program built against the last one would no longer run:
# with the first number of the version, and while that is 0 with the second.
SONUMBER := $(MAJOR)$(if $(filter 0,$(MAJOR)),.$(MINOR))
SONAME  := libprill.so.$(SONUMBER)
SHARED  := $(BUILD)/libprill.so.$(VERSION)
ARCHIVE := $(BUILD)/public/libprill.a
DICTIONARY := $(BUILD)/gen/prill.dict

# What the scripts under tests/ are told.
export BUILD
export PRILL := $(abspath $(PROGRAM))
export ICAL_JS := $(CURDIR)/build/node/node_modules/ical.js/dist/ical.js

# `make V=1` shows whole commands.
Q := $(if $(V),,@)
say = $(if $(V),@:,@printf '%-6s %s\n' $(1) $(2))

.DELETE_ON_ERROR:
.SUFFIXES:
.PHONY: all lib program dist help setup demo test pages units cases layers machinery reference reproducible sanitize valgrind analyze \
        tidy format-check format lint fuzz fuzz-programs bench docs docs-check install uninstall clean distclean FORCE

all: $(PROGRAM) $(ARCHIVE) $(SHARED)
program: $(PROGRAM)
lib: $(ARCHIVE) $(SHARED)

help:
	@echo 'make              the program $(PROGRAM) and the library, $(SHARED) and $(ARCHIVE)'
	@echo 'make setup        install what building needs (Debian 12); make setup test: what testing needs too, and test'
	@echo 'make demo         check and date the demonstration plan, write $(BUILD)/reading-green.ics'
	@echo 'make test         every test; parts of it: layers, machinery, units, cases, reference'
	@echo 'make pages        every page as HTML in a browser, under a validator and an accessibility checker (make setup pages)'
	@echo 'make sanitize     unit tests and cases under AddressSanitizer, UBSan, LeakSanitizer'
	@echo 'make valgrind     unit tests and cases under valgrind'
	@echo 'make lint         layers, tidy (clang-tidy), format-check (clang-format), analyze (gcc -fanalyzer)'
	@echo 'make fuzz         each fuzz target, and slips and rounding, for FUZZ_SECONDS=$(FUZZ_SECONDS)'
	@echo 'make bench        measure the speed beside its goals, six minutes; make bench BENCH=short: under one'
	@echo 'make reproducible build twice in different folders and compare'
	@echo 'make docs         write the documents that show the program'"'"'s tables; make docs-check: whether they are so'
	@echo 'make install      into PREFIX=$(PREFIX) below DESTDIR; make uninstall takes it away again'
	@echo 'make dist         the committed tree as $(BUILD)/prill-$(VERSION).tar.gz'
	@echo 'make clean        remove what was built; make distclean also what setup fetched'
	@echo
	@echo 'Variables: BUILD CC CPPFLAGS CFLAGS LDFLAGS PIE WERROR PREFIX BINDIR LIBDIR INCLUDEDIR DATADIR MANDIR DOCDIR DESTDIR; ROOMS="lexer parser" and UNITS=test_text build a part.'

# --- generated sources ---------------------------------------------------------------------------------
$(BUILD)/gen/%.c: %.re
	@mkdir -p $(@D)
	$(call say,re2c,$<)
	$(Q)re2c -W $(WERROR) -i --case-ranges --no-generation-date --no-version --depfile $(@:.c=.d) -o $@ $<

$(BUILD)/gen/%.c $(BUILD)/gen/%.h &: %.y
	@mkdir -p $(@D)
	$(call say,bison,$<)
	$(Q)bison -Wall -Wcounterexamples -Wdangling-alias $(WERROR) --no-lines --header=$(BUILD)/gen/$*.h \
	    -o $(BUILD)/gen/$*.c $<

$(BUILD)/embed: compiler/embed/embed.c
	@mkdir -p $(@D)
	$(call say,cc,$<)
	$(Q)$(HOSTCC) -std=c17 -D_POSIX_C_SOURCE=200809L $(WARNINGS) $(WERROR) -O1 -o $@ $<

# A list that changes only when its words do, so that removed files and changed flags are noticed.
define remember
	@mkdir -p $(@D)
	@printf '%s\n' $(1) >$@.new
	@if cmp -s $@.new $@; then rm $@.new; else mv $@.new $@; fi
endef

$(BUILD)/gen/library.list: FORCE
	$(call remember,$(KNOWLEDGE))
$(BUILD)/objects.list: FORCE
	$(call remember,$(LIBRARY_OBJECTS))
$(BUILD)/flags: FORCE
	$(call remember,'$(COMPILE) $(WARNINGS) $(WERROR) $(ANALYZER) $(VERSION)')

$(BUILD)/gen/library.c: $(BUILD)/embed $(BUILD)/gen/library.list $(KNOWLEDGE)
	$(call say,embed,$@)
	$(Q)$(BUILD)/embed $@ $(KNOWLEDGE)

# A text of the program, as the string `NAME_text`; others by their ending.
define embedded
$(BUILD)/gen/%_$(1).c: %.$(1) $(BUILD)/embed
	@mkdir -p $$(@D)
	$$(call say,embed,$$@)
	$$(Q)$(BUILD)/embed --text $$(notdir $$*)_$(1) $$@ $$<
endef
$(foreach ending,text html css,$(eval $(call embedded,$(ending))))

# --- objects -------------------------------------------------------------------------------------------
$(BUILD)/obj/%.o: %.c $(BUILD)/flags | $(GENERATED_HEADERS)
	@mkdir -p $(@D)
	$(call say,cc,$<)
	$(Q)$(COMPILE) $(WARNINGS) $(WERROR) $(ANALYZER) -DPRILL_VERSION='"$(VERSION)"' -c -o $@ $<

# cmocka hands every test a state that most tests have no use for. A test's own malloc is to be seen by the libraries too.
$(BUILD)/obj/tests/unit/%.o: tests/unit/%.c $(BUILD)/flags | $(GENERATED_HEADERS)
	@mkdir -p $(@D)
	$(call say,cc,$<)
	$(Q)$(COMPILE) -fvisibility=default $(WARNINGS) -Wno-unused-parameter $(WERROR) -DPRILL_VERSION='"$(VERSION)"' -c -o $@ $<

# Other people's generators wrote this C: the warnings of our own house style do not apply to it.
$(BUILD)/obj/gen/%.o: $(BUILD)/gen/%.c $(BUILD)/flags | $(GENERATED_HEADERS)
	@mkdir -p $(@D)
	$(call say,cc,$<)
	$(Q)$(COMPILE) -Wall -c -o $@ $<

$(LIBRARY): $(LIBRARY_OBJECTS) $(BUILD)/objects.list
	@rm -f $@
	$(call say,ar,$@)
	$(Q)$(AR) rcsD $@ $(LIBRARY_OBJECTS)

# What others link: names that are not for them are made local, so that none of theirs can meet one of ours.
$(ARCHIVE): $(LIBRARY)
	@mkdir -p $(@D)
	$(call say,ar,$@)
	$(Q)$(LD) -r -o $(@D)/prill.o --whole-archive $(LIBRARY)
	$(Q)$(OBJCOPY) --localize-hidden $(@D)/prill.o
	@rm -f $@
	$(Q)$(AR) rcsD $@ $(@D)/prill.o

$(SHARED): $(LIBRARY)
	$(call say,link,$@)
	@printf '%s\n' 'PRILL_$(SONUMBER) { global: prill_*; local: *; };' >$(BUILD)/gen/libprill.map
	$(Q)$(CC) -shared $(CFLAGS) $(INSTRUMENT) $(LDFLAGS) -Wl,-soname,$(SONAME) -Wl,--version-script=$(BUILD)/gen/libprill.map \
	    -o $@ -Wl,--whole-archive $(LIBRARY) -Wl,--no-whole-archive $(LIBS)

$(PROGRAM): $(PROGRAM_OBJECTS) $(LIBRARY)
	$(call say,link,$@)
	$(Q)$(CC) $(CFLAGS) $(INSTRUMENT) $(PIE) $(LDFLAGS) -pthread -o $@ $^ $(LIBS)

$(BUILD)/tests/unit/%: $(BUILD)/obj/tests/unit/%.o $(UNIT_SHARED) $(LIBRARY)
	@mkdir -p $(@D)
	$(call say,link,$@)
	$(Q)$(CC) $(CFLAGS) $(INSTRUMENT) $(LDFLAGS) -o $@ $^ -lcmocka $(TEST_LIBS)

# The test of memory that runs out refuses it itself.
$(BUILD)/tests/unit/test_memory: LDFLAGS += -Wl,--wrap=malloc,--wrap=calloc,--wrap=realloc,--wrap=free

# The runner is an ordinary program even where the program it runs is instrumented.
$(CASES_RUNNER): $(CASES_SOURCES) $(wildcard tests/cases/*.h)
	@mkdir -p $(@D)
	$(call say,link,$@)
	$(Q)$(HOSTCC) $(LANGUAGE) $(WARNINGS) $(WERROR) -O1 -g -pthread -o $@ $(CASES_SOURCES)

# What is laid under the program so that tests need not start it anew for each plan.
$(SERVED): tests/served.c
	@mkdir -p $(@D)
	$(call say,link,$@)
	$(Q)$(HOSTCC) -std=c17 $(WARNINGS) $(WERROR) -O1 -g -fPIC -shared -o $@ $<

$(REFERENCE_PROGRAMS) $(BENCH_PROGRAMS): $(BUILD)/%: $(BUILD)/obj/%.o $(LIBRARY)
	@mkdir -p $(@D)
	$(call say,link,$@)
	$(Q)$(CC) $(CFLAGS) $(LDFLAGS) -o $@ $^ $(LIBS)

.SECONDARY:
-include $(shell find $(BUILD)/obj $(BUILD)/gen -name '*.d' 2>/dev/null)

# --- tests ---------------------------------------------------------------------------------------------
test: all $(UNIT_PROGRAMS) $(CASES_RUNNER) $(REFERENCE_PROGRAMS) $(SERVED)
	@tests/run

# Some unit tests run the program itself.
units: $(PROGRAM) $(UNIT_PROGRAMS)
	@UNITS='$(UNITS)' tests/run units

cases: $(PROGRAM) $(CASES_RUNNER) $(SERVED)
	@tests/run cases

reference: $(PROGRAM) $(REFERENCE_PROGRAMS) $(SERVED)
	@tests/run reference

# Apart from `make test`: it needs a browser, and takes a minute.
pages: $(PROGRAM)
	@tests/pages/run

layers:
	@tests/layers

reproducible:
	@tests/reproducible

machinery: $(CASES_RUNNER) $(SERVED)
	@tests/run machinery

SANITIZERS := -fsanitize=address,undefined,float-cast-overflow -fno-sanitize-recover=all -fno-omit-frame-pointer
sanitize:
	@$(MAKE) --no-print-directory BUILD=$(BUILD)/sanitize WERROR=-Werror CC=clang CFLAGS='-O1 -g' INSTRUMENT='$(SANITIZERS)' \
	    sanitized-tests
.PHONY: sanitized-tests valgrind-tests
sanitized-tests: $(PROGRAM) $(UNIT_PROGRAMS) $(CASES_RUNNER)
	@UNIT_LIMIT=600 tests/run units cases

valgrind: $(PROGRAM) $(UNIT_PROGRAMS) $(CASES_RUNNER)
	@tests/run --valgrind units cases

# --- the reviewers that do not sleep ---------------------------------------------------------------------
OWN_SOURCES := $(SOURCES) $(wildcard compiler/embed/*.c) $(CASES_SOURCES)

analyze:
	@$(MAKE) --no-print-directory BUILD=$(BUILD)/analyze WERROR=-Werror CC=gcc CFLAGS=-O1 ANALYZER=-fanalyzer analyzed
.PHONY: analyzed
analyzed: $(OWN_SOURCES:%.c=$(BUILD)/obj/%.o)
	@echo 'gcc -fanalyzer: $(words $(OWN_SOURCES)) files, nothing found'

TIDIED := $(OWN_SOURCES:%=$(BUILD)/tidy/%.ok)
tidy: $(TIDIED)
	@echo 'clang-tidy: $(words $(TIDIED)) files, nothing found'
# The object stands for the headers that the source includes: when one of them changes, both are old.
$(BUILD)/tidy/%.c.ok: %.c .clang-tidy $(BUILD)/obj/%.o
	@mkdir -p $(@D)
	$(call say,tidy,$<)
	$(Q)clang-tidy --quiet --warnings-as-errors='*' $< -- $(LANGUAGE) $(PACKAGE_CFLAGS) \
	    -DPRILL_VERSION='"$(VERSION)"' 2>$@.log || { cat $@.log; exit 1; }
	@touch $@

TRACKED_C = $(shell git ls-files '*.c' '*.h')
format-check:
	@clang-format --dry-run -Werror $(TRACKED_C)
	@echo 'clang-format: $(words $(TRACKED_C)) files, as the house writes them'
format:
	clang-format -i $(TRACKED_C)

lint: layers tidy format-check analyze

# --- fuzzing, speed ------------------------------------------------------------------------------------
FUZZING := -fsanitize=fuzzer-no-link,address,undefined -fno-sanitize-recover=undefined
fuzz: $(if $(wildcard tests/fuzz/dictionary),$(DICTIONARY)) $(PROGRAM) $(REFERENCE_PROGRAMS) $(SERVED)
	@$(MAKE) --no-print-directory BUILD=$(BUILD)/fuzz WERROR=-Werror CC=clang CFLAGS='-O1 -g' INSTRUMENT='$(FUZZING)' fuzz-programs
	@FUZZ_SECONDS=$(FUZZ_SECONDS) tests/fuzz/run
fuzz-programs: $(FUZZ_PROGRAMS)
$(FUZZ_PROGRAMS): $(BUILD)/%: $(BUILD)/obj/tests/fuzz/%.o $(LIBRARY)
	$(call say,link,$@)
	$(Q)$(CC) $(CFLAGS) -fsanitize=fuzzer,address,undefined -o $@ $^ $(LIBS)
$(DICTIONARY): $(PROGRAM) tests/fuzz/dictionary
	@mkdir -p $(@D)
	tests/fuzz/dictionary >$@

bench: all $(BENCH_PROGRAMS)
	@tests/bench/run $(BENCH)

# --- demonstration, documents, installation --------------------------------------------------------------
DEMO := plans/wrenfield/reading-green.prill
demo: $(PROGRAM)
	$(PROGRAM) check $(DEMO)
	$(PROGRAM) calendar $(DEMO)
	$(PROGRAM) calendar $(DEMO) -o $(BUILD)/reading-green.ics
	@echo 'The season as calendar events: $(BUILD)/reading-green.ics (opens in any calendar program).'

# Documents with parts between marks, which are written from the program's tables, and one that is a table as a whole.
MARKED := docs/language.md docs/prill.1 docs/completions/prill.bash docs/completions/_prill docs/completions/prill.fish
docs: $(PROGRAM)
	@for file in $(MARKED); do \
	    $(PROGRAM) generate "$$file" >$(BUILD)/generated || exit; cat $(BUILD)/generated >"$$file"; done
	@$(PROGRAM) checks --markdown >$(BUILD)/generated || { \
	    echo 'docs/checks.md not written: $(PROGRAM) cannot list its checks' >&2; exit 1; }
	@mv $(BUILD)/generated docs/checks.md
	@echo 'written from the tables: $(MARKED) docs/checks.md'

# Whether that would change nothing; docs/checks.md is not committed.
docs-check: $(PROGRAM)
	@for file in $(MARKED); do \
	    $(PROGRAM) generate "$$file" | cmp - "$$file" || { echo "$$file: run make docs" >&2; exit 1; }; done
	@echo 'docs: $(words $(MARKED)) files, as the tables have it'

dist:
	@mkdir -p $(BUILD)
	git archive --prefix=prill-$(VERSION)/ -o $(BUILD)/prill-$(VERSION).tar.gz HEAD

# What goes where: put,MODE,FOLDER,FILES. Folders may have blanks in their names.
define put
install -d '$(DESTDIR)$(2)'
install -m $(1) $(3) '$(DESTDIR)$(2)'

endef
# take,FOLDER,NAMES: away again.
define take
cd '$(DESTDIR)$(1)' 2>/dev/null && rm -rf $(2) || :

endef
BASHDIR   := $(DATADIR)/bash-completion/completions
ZSHDIR    := $(DATADIR)/zsh/site-functions
FISHDIR   := $(DATADIR)/fish/vendor_completions.d
DOCUMENTS := $(wildcard LICENSE DEVELOPERS.md docs/*.md docs/*.json)
EXAMPLES  := $(wildcard plans/*/)

install: all
	$(call put,755,$(BINDIR),$(PROGRAM))
	$(call put,755,$(LIBDIR),$(SHARED))
	ln -sf $(notdir $(SHARED)) '$(DESTDIR)$(LIBDIR)/$(SONAME)'
	ln -sf $(SONAME) '$(DESTDIR)$(LIBDIR)/libprill.so'
	$(call put,644,$(LIBDIR),$(ARCHIVE))
	$(call put,644,$(INCLUDEDIR),compiler/prill.h)
	install -d '$(DESTDIR)$(LIBDIR)/pkgconfig'
	printf '%s\n' 'prefix=$(PREFIX)' 'libdir=$(LIBDIR)' 'includedir=$(INCLUDEDIR)' '' 'Name: prill' \
	    'Description: checks and dates the season plan of a lawn' 'Version: $(VERSION)' \
	    'Cflags: "-I$${includedir}"' 'Libs: "-L$${libdir}" -lprill' 'Libs.private: -lm' \
	    >'$(DESTDIR)$(LIBDIR)/pkgconfig/prill.pc'
	$(call put,644,$(MANDIR)/man1,docs/prill.1)
	$(call put,644,$(DOCDIR),$(DOCUMENTS))
	sed 's|](docs/|](|g; s|](plans/library|](../../prill/library|g; s|](plans/|](examples/|g' README.md >'$(DESTDIR)$(DOCDIR)/README.md'
	$(call put,644,$(DATADIR)/prill/library,plans/library/*.prill)
	$(foreach example,$(filter-out library,$(EXAMPLES:plans/%/=%)),$(call put,644,$(DOCDIR)/examples/$(example),plans/$(example)/*))
	$(call put,644,$(BASHDIR),docs/completions/prill.bash)
	mv '$(DESTDIR)$(BASHDIR)/prill.bash' '$(DESTDIR)$(BASHDIR)/prill'
	$(call put,644,$(ZSHDIR),docs/completions/_prill)
	$(call put,644,$(FISHDIR),docs/completions/prill.fish)

# Folders that others may use too stay, but below DESTDIR: that tree is of this program's making, so its empty ones go.
uninstall:
	$(call take,$(BINDIR),prill)
	$(call take,$(LIBDIR)/pkgconfig,prill.pc)
	$(call take,$(LIBDIR),$(notdir $(SHARED)) $(SONAME) libprill.so libprill.a)
	$(call take,$(INCLUDEDIR),prill.h)
	$(call take,$(MANDIR)/man1,prill.1)
	rm -rf '$(DESTDIR)$(DOCDIR)' '$(DESTDIR)$(DATADIR)/prill'
	$(call take,$(BASHDIR),prill)
	$(call take,$(ZSHDIR),_prill)
	$(call take,$(FISHDIR),prill.fish)
	$(if $(DESTDIR),find '$(DESTDIR)' -depth -mindepth 1 -type d -empty -delete)

# With a target that tests, what testing needs as well.
setup:
	@.ci/setup $(if $(filter pages,$(MAKECMDGOALS)),test pages,$(if $(filter test units cases reference sanitize valgrind lint tidy format-check fuzz bench,$(MAKECMDGOALS)),test))

# By name, so that BUILD=/some/folder never loses a stranger's file; what `make setup` fetched stays.
clean:
	rm -rf $(addprefix $(BUILD)/,obj gen tests tidy analyze sanitize fuzz locale prill libprill.a public embed flags \
	    objects.list generated reading-green.ics $(notdir $(SHARED)) prill-$(VERSION).tar.gz)
distclean: clean
	rm -rf build
