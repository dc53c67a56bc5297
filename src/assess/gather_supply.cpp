#include "assess/gather.h"

#include <algorithm>
#include <cmath>

namespace trivet {

namespace {

// Common practice: a supply that states no derating holds its rating up to here.
constexpr Temperature usual_full_load_limit = celsius(40.0);

void write_derated(SubjectWriter& writer, const SourceElement& source, Temperature ambient) {
    if (!source.rated_current) return writer.absent("derated_current", "rated_current");
    const Current rated = source.rated_current->range.lo;
    const Temperature full_up_to = source.full_load_up_to ? source.full_load_up_to->range.lo : usual_full_load_limit;
    const double above = std::max(0.0, ambient.si - full_up_to.si);
    if (above > 0.0 && !source.derating) return writer.absent("derated_current", "derating");
    const double lost = above > 0.0 ? above * source.derating->range.hi.si : 0.0;
    writer.number("derated_current", any(rated * std::max(0.0, 1.0 - lost)), source.rated_current->place,
                  SubjectWriter::certainty_of(source.rated_current->basis));
}

} // namespace

void gather_supplies(Gathering& to) {
    for_each_element<SourceElement>(to, BranchKind::source, [&](BranchId id, const SourceElement& source) {
        const Branch& branch = to.branch(id);
        SubjectWriter writer(to, SubjectKind::supply, branch);
        const Envelope& envelope = to.analysis.envelope;
        writer.truth("is_battery", source.is_battery);
        writer.flag("isolated", "isolated", source.isolated);
        write_current(writer, to, id, "current", envelope.current[id.value].highest);
        write_current(writer, to, id, "start_current", envelope.start_current[id.value].highest);
        Extreme pushed = envelope.current[id.value].lowest;
        pushed.value = std::isnan(pushed.value) ? 0.0 : std::max(0.0, -pushed.value);
        write_voltage(writer, to, id, "reverse_current", pushed, dim::current);
        writer.lowest("rated_current", "rated_current", source.rated_current);
        write_derated(writer, source, hottest_ambient(to.design, to.part_of(branch)));
        writer.lowest("limit_current", "limit_current", source.limit_current);
        const UnfusedRun& run = to.analysis.unfused.at(id.value);
        if (run.length_missing && !std::isinf(run.longest.si))
            writer.absent("unfused_length", "length of the wires between it and its fuse");
        else
            writer.number("unfused_length", any(run.longest));
    });
}

} // namespace trivet
