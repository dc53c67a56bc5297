#include "assess/gather.h"
#include "electrical/fuse.h"

#include <cmath>

namespace trivet {

void gather_fuses(Gathering& to) {
    for_each_element<FuseElement>(to, BranchKind::fuse, [&](BranchId id, const FuseElement& fuse) {
        const Branch& branch = to.branch(id);
        SubjectWriter writer(to, SubjectKind::fuse, branch);
        const BranchFault& fault = to.analysis.faults.branch[id.value];
        write_current(writer, to, id, "current", largest(to.analysis.envelope.current[id.value]));
        writer.text("family", std::string(fuse_family_names[static_cast<std::size_t>(fuse.family)]));
        writer.lowest("rated_current", "rated_current", fuse.rated_current);
        writer.lowest("rated_voltage", "rated_voltage", fuse.rated_voltage);
        writer.lowest("breaking_capacity", "breaking_capacity", fuse.breaking_capacity);
        write_voltage(writer, to, id, "highest_voltage", unloaded_voltage(to, id));
        const bool in_a_circuit = fault.highest > 0.0;
        if (fault.limit_unstated) {
            writer.unknown("fault_current", unstated_feed(to, id));
            writer.unknown("lowest_fault_current", unstated_feed(to, id));
        } else {
            writer.number("fault_current", {fault.highest, dim::current});
            writer.number("lowest_fault_current",
                          {in_a_circuit && std::isfinite(fault.lowest) ? fault.lowest : 0.0, dim::current});
        }
        if (const auto operating = operating_current(fuse, to.handbook))
            writer.number("operating_current", any(*operating));
        else
            writer.absent("operating_current", "rated_current");
    });
}

} // namespace trivet
