/* What is to be bought for the season: by product, what the plan still needs, what the shed has of it, in
 * which packs to buy the rest, by when, and what is left of it all at the season's end.
 *
 * Amounts are kg, or m3 where `volume`; areas m2; prices plain numbers, in the plan's currency if it names
 * one. */
#ifndef PRILL_RESULT_SHOPPING_H
#define PRILL_RESULT_SHOPPING_H

#include "compiler/result/caution.h"
#include "compiler/result/packs.h"
#include "compiler/season/shed.h"

enum purchase_state {
    PURCHASE_DONE,     /* nothing more is needed */
    PURCHASE_HELD,     /* the shed has all of it */
    PURCHASE_PACKED,   /* `choice` tells the packs */
    PURCHASE_UNPACKED, /* the product states no pack */
    PURCHASE_UNKNOWN,  /* packs by mass, need by volume or the other way round, and no density is stated */
    PURCHASE_TOO_MANY  /* of such packs it would take more than anybody buys */
};

struct purchase_pack { /* one of the product's sizes */
    const struct pack *pack;
    size_t count;               /* to buy */
    double amount;              /* what one holds, counted as the purchase is */
    double area_low, area_high; /* that one covers at the highest and the lowest rate planned */
};

struct purchase {
    const struct product *product;
    bool volume;
    bool bulk;           /* laid as a layer: counted by the cubic yard or metre, loose */
    double needed;       /* for what is planned and not done */
    double measured;     /* the same as it is weighed and measured out, which is what has to be there */
    double recorded;     /* put down, by amounts in records */
    double assumed;      /* put down by records without amounts: taken as planned */
    double before_count; /* planned up to the shed's last count, without a record: the count has it out */
    double rate_low, rate_high;     /* of what is planned and not done; kg/m2 or m3/m2; 0 with `needed` 0 */
    struct leeway leeway;           /* of all that */
    const struct shelf *shelf;      /* what is stated of the shed; NULL: nothing, or not in this measure */
    double held;                    /* in the shed */
    double taken;                   /* of that, for what is needed */
    double taken_cost;              /* what that cost */
    double to_buy;                  /* measured and not in the shed */
    double left;                    /* of shed and packs at the season's end; NAN where no packs are known */
    const struct occurrence *first; /* that needs it; NULL when none does */
    enum purchase_state state;
    VECTOR(struct purchase_pack) packs; /* that can be counted as the purchase is, in the order of the text */
    struct pack_choice choice;          /* of PURCHASE_PACKED */
    double rates_amount;                /* that `prill rates` counts of it for rates it chose; 0 without */
    double rates_cost;                  /* as it counts that; NAN without a price */
    bool rates_packs;                   /* it counts whole packs */
    size_t loads;     /* deliveries of what is to be bought; 0: none, or the product states no load */
    double load;      /* what one of them brings */
    double load_cost; /* of all of them; NAN without a price */
};

struct laid_material { /* a material of layers that is no product of the plan */
    const struct name *name;
    double m3; /* still to lay; as laid, since nothing is known of how it settles */
    const struct occurrence *first;
};

struct shopping {
    VECTOR(struct purchase) purchases;      /* what is needed first comes first */
    VECTOR(struct laid_material) materials; /* in the order of the calendar */
    struct shed shed;
    double cost;      /* of what is to be bought and has a price */
    double shed_cost; /* of what the shed gives, as stated there */
    size_t unpriced;  /* purchases still to make of which the cost is not known */
};

struct shopping shopping_of(const struct season *season);

/* What to take care of where these products are stored. */
struct caution_list shopping_cautions(const struct model *model, const struct shopping *shopping);

/* ---- in words ---- */

/* "31.00": two decimals, or as many as the number has, up to six. */
const char *money_number(struct arena *arena, double value);

/* "31.00 dollars": with the plan's currency, where it names one. */
const char *money_text(struct arena *arena, const struct model *model, double value);

/* "40 lb" */
const char *pack_text(struct arena *arena, const struct model *model, const struct pack *pack);

/* The same of a purchase; "1 cu yd" of what is laid. */
const char *purchase_pack_text(struct arena *arena, const struct model *model,
                               const struct purchase *purchase, const struct pack *pack);

/* "3.86 cu yd": of what is laid, rounded up. */
const char *bulk_text(struct arena *arena, const struct model *model, double m3);

/* An amount as the purchase is counted: exact, rounded up or rounded down. */
enum amount_rounding { AMOUNT_NEAREST, AMOUNT_UP, AMOUNT_DOWN };
const char *purchase_amount_text(struct arena *arena, const struct model *model,
                                 const struct purchase *purchase, double amount,
                                 enum amount_rounding rounding);
/* The unit of its texts. */
const struct unit *purchase_unit(const struct model *model, const struct purchase *purchase, double amount);

/* An area that a pack covers, rounded down, so that none runs out before. */
const char *covered_number(struct arena *arena, const struct model *model, double m2);

/* What is still to be applied, the sum of what the calendar has measured out; what the shed has
 * (purchase->shelf), rounded down; what is left of shed and packs at the season's end, NULL where that is
 * nothing. */
const char *purchase_needed_text(struct arena *arena, const struct model *model,
                                 const struct purchase *purchase);
const char *purchase_held_text(struct arena *arena, const struct model *model,
                               const struct purchase *purchase);
const char *purchase_left_text(struct arena *arena, const struct model *model,
                               const struct purchase *purchase);

/* Why `prill rates` counts another amount or cost; NULL where it counts the same, or nothing of it. */
const char *purchase_rates_text(struct arena *arena, const struct model *model,
                                const struct purchase *purchase);

/* "pack 20 kg at 31.00": a statement as the plan might have it, in its units. */
const char *pack_example(struct arena *arena, const struct model *model, bool volume, bool bulk);

/* Why no packs are told: a sentence, which for PURCHASE_PACKED is "". */
const char *purchase_reason(struct arena *arena, const struct model *model, const struct purchase *purchase);

#endif
