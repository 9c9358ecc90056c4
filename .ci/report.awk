# Shortens what `go test -v` prints for several packages. A package that passes leaves its "ok" line and its skipped tests;
# one that fails leaves everything it said. With tally=1 only a closing line with the sums is printed: top-level tests, and
# a package that did not build or run as one failure. Exit 1 when nothing passed, so that a run without tests fails.
/^--- PASS: / { passed++ }
/^--- FAIL: / { failed++; failures++ }
/^--- SKIP: / { skipped++ }
{ said = said $0 "\n" }
/^--- SKIP: / || (skipping && /^ /) { skips = skips $0 "\n" }
{ skipping = /^--- SKIP: / || (skipping && /^ /) }
/^FAIL\t/ {
	if (!failures) failed++
	if (!tally) printf "%s", said
}
/^ok  \t/ && !tally { printf "%s%s\n", skips, $0 }
/^(ok  |FAIL|[?]   )?\t/ { said = skips = ""; failures = skipping = 0 }
END {
	if (!tally) {
		# What stands after the last package: go's own complaint, such as a pattern that matches nothing.
		if (said !~ /^(FAIL\n)?$/) printf "%s", said
		exit 0
	}
	printf "%d passed, %d failed, %d skipped\n", passed, failed, skipped
	exit passed == 0
}
