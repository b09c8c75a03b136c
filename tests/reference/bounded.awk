# Prints the plan WHAT of bounded.check, with N and M of what multiplies.
function zones(count, i) {
    print "lawn green {\n    soil loam"
    for (i = 0; i < count; i++) print "    zone z" i " area 1000 sqft"
    print "}"
}
function test(day, i) {
    print "soil-test 2027-" day " {\n    of green\n    method mehlich-3\n    depth 4 in\n    scale minimum-levels"
    print "    results {\n        spot P ppm K ppm\n        a " 9 + i " 22\n    }\n}"
}
BEGIN {
    feed = "product feed { grade 2-0-5 granular }"
    rate = "    rate 0.1 lb per 1000 sqft of feed\n}"
    print "plan \"Bounded\"\nedition 1 on 2027-01-05\nseason 2027-03-01 to 2029-02-20\nunits us"
    if (what == "times") {
        zones(3)
        print feed
        for (i = 0; i < n; i++) print "apply a" i " {\n    to green\n    when every 5 days from 2027-03-01, " m " times\n" rate
    }
    if (what == "limits") {
        zones(m)
        print feed "\nlimits {"
        for (i = 0; i < n; i++) {
            print "    at most 30 lb N per 1000 sqft in any " i % 360 + 1 " days"
            print "    at most 30 lb N per 1000 sqft from Mar " i % 30 + 1 " to Nov " i % 25 + 1
        }
        print "}\napply a {\n    to green\n    when every 5 days from 2027-03-01, 30 times\n" rate
    }
    if (what == "words") { # each could begin what was meant
        for (i = 0; i < n; i++) {
            printf "%s", i % 2 ? "task t" i " { when " : ""
            for (j = 0; j < m; j++) printf "words "
            print i % 2 ? "}" : ""
        }
    }
    if (what == "work") { # each limit looks at each of a zone's days
        zones(m)
        print feed "\nlimits {"
        for (i = 0; i < n; i++) print "    no P2O5 without soil-test need"
        print "}\napply a {\n    to green\n    when every 3 days from 2027-03-01, 200 times\n" rate
    }
    if (what == "waits") {
        zones(m)
        for (i = 0; i < n; i++) print "task t" i " {\n    to green\n    kind k" i "\n    when from 2027-03-01\n}"
        print "limits {"
        for (i = 0; i + 1 < n; i++) print "    at least 1 day between k" i " and k" i + 1
        print "}"
    }
    if (what == "records") {
        zones(m)
        print feed "\napply a {\n    to green\n    when every 1 day from 2027-03-01, " n " times\n" rate
        for (i = 0; i < n; i++) printf "done a 2027-%02d-%02d\n", 3 + int(i / 28) % 10, i % 28 + 1
    }
    if (what == "tests") {
        zones(m)
        for (i = 0; i < n; i++) test(sprintf("02-%02d", i % 28 + 1), i)
    }
    if (what == "matches") {
        zones(1)
        for (i = 0; i < m; i++) print "product p" i " { grade " i % 40 "-" i % 7 "-" i % 5 " granular }"
        for (i = 0; i < n; i++) print "match " 1 + i % 20 "-30-9 at 0.5 lb N per 1000 sqft from p" i % m ", p" (i + 1) % m
    }
    if (what == "corrections") {
        zones(2)
        test("02-01", 0)
        print feed "\nproduct potash { grade 0-0-50 granular }\nproduct phosphate { grade 0-46-0 granular }"
        for (i = 0; i < n; i++) {
            printf "apply a%d {\n    to z%d\n    when from 2027-%02d-01\n}\n", i, i % 2, 3 + i % 8
            print "correct c" i " {\n    to z" i % 2 "\n    need 0.5 lb K2O per 1000 sqft\n    from feed, potash, phosphate\n    in a" i "\n}"
        }
    }
    if (what == "weather") {
        zones(1)
        print "weather {\n    normals {\n        month high F low F"
        split("Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec", months)
        for (i = 1; i <= 12; i++) print "        " months[i] " " 60 + i " " 40 + i
        print "    }\n}"
        for (i = 0; i < n; i++)
            print "task t" i " {\n    when from 2027-04-01\n    when mean above 1 F over " 10 * m + i " days\n}"
    }
    if (what == "amounts") {
        zones(m)
        print feed
        for (i = 0; i < n; i++) print "apply a" i " {\n    to green\n    when from 2027-03-01\n" rate
    }
    if (what == "memory") { # pairs of treatments and waits on every zone
        zones(m)
        for (i = 0; i < n; i++)
            print "task t" i " {\n    to green\n    kind k" i "\n    when every 1 day from 2027-03-01, 90 times\n}"
        print "limits {"
        for (i = 0; i + 1 < n; i++) print "    at least 1 day between k" i " and k" i + 1
        print "}"
    }
    if (what == "dates")
        for (i = 0; i < n; i++) print "task t" i " { when every 1 day from 2027-03-01, 700 times }"
    if (what == "grasses")
        for (i = 0; i < n; i++) print "lawn l" i " { grass bermuda, zone z" i " area 2000 sqft }"
}
