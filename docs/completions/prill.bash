# bash completion for prill. Source it, or install it as share/bash-completion/completions/prill.
# `make docs` writes what is between the marks.

_prill()
{
    local word=${COMP_WORDS[COMP_CWORD]} previous=${COMP_WORDS[COMP_CWORD - 1]} command=${COMP_WORDS[1]}
    local commands choices= options= takes=
    # bash parts words at "=": --color=auto comes as three.
    if [[ $word == = ]]; then
        word=
    elif [[ $previous == = ]]; then
        previous=${COMP_WORDS[COMP_CWORD - 2]}
    fi
    # prill:begin bash
    commands='start check calendar day compare needs shopping budget rates weather explain library format checks help'
    case $command in
    start) options='--grass --region --units --output --help' ;;
    check) options='--as --warnings --use --stdin-name --color --help' ;;
    calendar) options='--as --output --as-of --late --since --use --stdin-name --color --help' ;;
    day) options='--as --output --as-of --use --stdin-name --color --help' ;;
    compare) options='--as --output --use --stdin-name --color --help' ;;
    needs) options='--as --output --use --stdin-name --color --help' ;;
    shopping) options='--as --output --use --stdin-name --color --help' ;;
    budget) options='--as --output --use --stdin-name --color --help' ;;
    rates) options='--as --output --use --stdin-name --color --help' ;;
    weather) options='--as --output --use --stdin-name --color --help' ;;
    explain) options='--as --output --use --stdin-name --color --help' ;;
    library) options='--help' ;;
    format) options='--check --stdin-name --color --help' ;;
    checks) options='--markdown --help' ;;
    help) options='--help' ;;
    esac
    case $command:$previous in
    start:--grass) takes=word ;;
    start:--region) takes=word ;;
    start:--units) choices='us metric' ;;
    start:--output | start:-o) takes=file ;;
    check:--as) choices='text json sarif' ;;
    check:--warnings) choices='error' ;;
    check:--use) takes=file ;;
    check:--stdin-name) takes=file ;;
    check:--color) choices='auto always never' ;;
    calendar:--as) choices='text html markdown ics csv json' ;;
    calendar:--output | calendar:-o) takes=file ;;
    calendar:--as-of) takes=word ;;
    calendar:--late) takes=word ;;
    calendar:--since) takes=file ;;
    calendar:--use) takes=file ;;
    calendar:--stdin-name) takes=file ;;
    calendar:--color) choices='auto always never' ;;
    day:--as) choices='text html markdown' ;;
    day:--output | day:-o) takes=file ;;
    day:--as-of) takes=word ;;
    day:--use) takes=file ;;
    day:--stdin-name) takes=file ;;
    day:--color) choices='auto always never' ;;
    compare:--as) choices='text html markdown json' ;;
    compare:--output | compare:-o) takes=file ;;
    compare:--use) takes=file ;;
    compare:--stdin-name) takes=file ;;
    compare:--color) choices='auto always never' ;;
    needs:--as) choices='text html markdown json' ;;
    needs:--output | needs:-o) takes=file ;;
    needs:--use) takes=file ;;
    needs:--stdin-name) takes=file ;;
    needs:--color) choices='auto always never' ;;
    shopping:--as) choices='text html markdown csv json' ;;
    shopping:--output | shopping:-o) takes=file ;;
    shopping:--use) takes=file ;;
    shopping:--stdin-name) takes=file ;;
    shopping:--color) choices='auto always never' ;;
    budget:--as) choices='text html markdown csv json' ;;
    budget:--output | budget:-o) takes=file ;;
    budget:--use) takes=file ;;
    budget:--stdin-name) takes=file ;;
    budget:--color) choices='auto always never' ;;
    rates:--as) choices='text html markdown json' ;;
    rates:--output | rates:-o) takes=file ;;
    rates:--use) takes=file ;;
    rates:--stdin-name) takes=file ;;
    rates:--color) choices='auto always never' ;;
    weather:--as) choices='text html markdown csv json' ;;
    weather:--output | weather:-o) takes=file ;;
    weather:--use) takes=file ;;
    weather:--stdin-name) takes=file ;;
    weather:--color) choices='auto always never' ;;
    explain:--as) choices='text html markdown' ;;
    explain:--output | explain:-o) takes=file ;;
    explain:--use) takes=file ;;
    explain:--stdin-name) takes=file ;;
    explain:--color) choices='auto always never' ;;
    format:--stdin-name) takes=file ;;
    format:--color) choices='auto always never' ;;
    esac
    # prill:end
    COMPREPLY=()
    if ((COMP_CWORD == 1)); then
        choices="$commands --help --version"
    elif [[ $takes == file ]]; then
        mapfile -t COMPREPLY < <(compgen -f -- "$word")
        return
    elif [[ $takes == word ]]; then
        return
    elif [[ $command == help ]]; then
        choices=$commands
    elif [[ ! $choices && $word == -* ]]; then
        choices=$options
    elif [[ ! $choices ]]; then
        mapfile -t COMPREPLY < <(compgen -d -S / -- "$word"; compgen -f -X '!*.prill' -- "$word")
        compopt -o nospace 2>/dev/null
        return
    fi
    mapfile -t COMPREPLY < <(compgen -W "$choices" -- "$word")
}
complete -F _prill prill
