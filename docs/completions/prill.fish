# fish completion for prill. Install it in a folder of $fish_complete_path.

set -l commands check calendar compare needs shopping budget rates weather explain format checks help
complete -c prill -f
complete -c prill -n __fish_use_subcommand -a check -d 'tell what is wrong in a plan'
complete -c prill -n __fish_use_subcommand -a calendar -d 'print what is to be done on which day'
complete -c prill -n __fish_use_subcommand -a compare -d 'print what changes from one plan to another'
complete -c prill -n __fish_use_subcommand -a needs -d 'print what the soil tests say the lawn needs'
complete -c prill -n __fish_use_subcommand -a shopping -d 'print what is still to buy for the season'
complete -c prill -n __fish_use_subcommand -a budget -d 'print the nutrients by month against needs and limits'
complete -c prill -n __fish_use_subcommand -a rates -d 'print the rates the compiler chose, and why'
complete -c prill -n __fish_use_subcommand -a weather -d 'print the weather each day counts on, and its risk'
complete -c prill -n __fish_use_subcommand -a explain -d 'tell how a result came about, or what a rule means'
complete -c prill -n __fish_use_subcommand -a format -d 'lay out a plan\'s text'
complete -c prill -n __fish_use_subcommand -a checks -d 'list every rule a plan is held to'
complete -c prill -n __fish_use_subcommand -a help -d 'tell about prill or one of its commands'
complete -c prill -n __fish_use_subcommand -l version -d 'print the version'
complete -c prill -s h -l help -d 'tell about the command'

set -l on_plans '__fish_seen_subcommand_from check calendar compare needs shopping budget rates weather explain format'
complete -c prill -n $on_plans -k -a '(__fish_complete_suffix .prill)'
complete -c prill -n $on_plans -l stdin-name -r -F -d 'the path that standard input stands for'
complete -c prill -n $on_plans -l color -x -a 'auto always never' -d 'whether reports are coloured'

complete -c prill -n '__fish_seen_subcommand_from check' -l as -x -a 'text json sarif' -d 'the form of the reports'
complete -c prill -n '__fish_seen_subcommand_from check' -l warnings -x -a error -d 'end with status 1 on a warning too'
complete -c prill -n '__fish_seen_subcommand_from calendar' -l as -x -a 'text ics csv json' -d 'the form'
complete -c prill -n '__fish_seen_subcommand_from needs rates compare' -l as -x -a 'text json' -d 'the form'
complete -c prill -n '__fish_seen_subcommand_from shopping budget weather' -l as -x -a 'text csv json' -d 'the form'
complete -c prill -n '__fish_seen_subcommand_from calendar needs shopping budget rates weather' -s o -l output -r -F -d 'write this file'
complete -c prill -n '__fish_seen_subcommand_from calendar' -l as-of -x -d 'tell what is overdue on that day, due within a week, and next'
complete -c prill -n '__fish_seen_subcommand_from calendar' -l late -x -d 'tell what moves if this falls on that day, or why it cannot'
complete -c prill -n '__fish_seen_subcommand_from calendar' -l since -r -F -d 'take off calendars what is gone since this one'
complete -c prill -n '__fish_seen_subcommand_from check calendar compare needs shopping budget rates weather explain' -l use -r -F -d 'as if the plan used this file'
complete -c prill -n '__fish_seen_subcommand_from format' -l check -d 'write nothing; name the plans not in this layout'
complete -c prill -n '__fish_seen_subcommand_from checks' -l markdown -d 'as a document'
complete -c prill -n '__fish_seen_subcommand_from help' -a "$commands"
