"""Check digits from an independent implementation of ISO/IEC 7064 MOD 11,10.

    pip install python-stdnum==2.2
    python tests/tags/check_digits.py > tests/tags/check_digits.csv

Prints the tool's version, how many swaps of unlike neighbours it does not notice among all
100 000 codes (by the place of the left one), and the check digits of every 97th number.
"""

from importlib.metadata import version

from stdnum.iso7064 import mod_11_10


def missed_swaps(codes, place):
    missed = 0
    for code in codes:
        left, right = code[place], code[place + 1]
        swapped = code[:place] + right + left + code[place + 2 :]
        missed += left != right and mod_11_10.is_valid(swapped)
    return missed


def main():
    numbers = [f"{n:05d}" for n in range(100_000)]
    codes = [n + mod_11_10.calc_check_digit(n) for n in numbers]
    print(f"# python-stdnum {version('python-stdnum')}, stdnum.iso7064.mod_11_10")
    for place in range(5):
        print(f"# missed swaps at {place}: {missed_swaps(codes, place)}")
    print("number,code")
    for number in range(0, 100_000, 97):
        print(f"{number},{codes[number]}")


main()
