# bash completion for prill. Source it, or install it as share/bash-completion/completions/prill.

_prill()
{
    local word=${COMP_WORDS[COMP_CWORD]} previous=${COMP_WORDS[COMP_CWORD - 1]} command=${COMP_WORDS[1]}
    local common='--stdin-name --color --help' words=
    # bash parts words at "=": --color=auto comes as three.
    if [[ $word == = ]]; then
        word=
    elif [[ $previous == = ]]; then
        previous=${COMP_WORDS[COMP_CWORD - 2]}
    fi
    COMPREPLY=()
    if ((COMP_CWORD == 1)); then
        words='start check calendar compare needs shopping budget rates weather explain format checks help --help --version'
    elif [[ $previous == --as && $command == check ]]; then
        words='text json sarif'
    elif [[ $previous == --as && ($command == needs || $command == rates || $command == compare) ]]; then
        words='text json'
    elif [[ $previous == --as && ($command == shopping || $command == budget || $command == weather) ]]; then
        words='text csv json'
    elif [[ $previous == --as ]]; then
        words='text ics csv json'
    elif [[ $previous == --units ]]; then
        words='us metric'
    elif [[ $previous == --color ]]; then
        words='auto always never'
    elif [[ $previous == --warnings ]]; then
        words=error
    elif [[ $previous == --output || $previous == -o || $previous == --use || $previous == --stdin-name ||
        $previous == --since ]]; then
        mapfile -t COMPREPLY < <(compgen -f -- "$word")
        return
    elif [[ $command == help ]]; then
        words='start check calendar compare needs shopping budget rates weather explain format checks help'
    elif [[ $word == -* ]]; then
        case $command in
        start) words='--grass --region --units --output --help' ;;
        check) words="--as --warnings --use $common" ;;
        calendar) words="--as --output --as-of --late --since --use $common" ;;
        compare) words="--as --use $common" ;;
        needs | shopping | budget | rates | weather) words="--as --output --use $common" ;;
        explain) words="--use $common" ;;
        format) words="--check $common" ;;
        checks) words='--markdown --help' ;;
        esac
    else
        mapfile -t COMPREPLY < <(compgen -d -S / -- "$word"; compgen -f -X '!*.prill' -- "$word")
        compopt -o nospace 2>/dev/null
        return
    fi
    mapfile -t COMPREPLY < <(compgen -W "$words" -- "$word")
}
complete -F _prill prill
